// The first of the two steps of filter.ts, the one that lets go of the pitch before:
//
//   g_t(h, n)  =  r_t(p(h), n) sum over m of  f_t(m, h) s(p(h) - m, n - p(h)).
//
// By classes of steps (turns.ts) the sum is
//
//   sum over c of  w(c, d) (sum over m in class c of  f_t(m, h)),      d = the class of n - p(h),
//
// but for the one m that n goes back to: where there is one, s - w(c, d) times f_t(m, h) is added for it. That difference may
// be below 0, but what is taken away was there before, and weights.ts sees to it that enough is left to be exact.
import type { Lattice } from './lattice';
import { findSame } from './ways';
import type { TurnWeights, Weights } from './weights';

/** Weight of all paths up to each state of one slot: row m, column h. */
export type Filtered = Float64Array;

/** Room for the g_t of one slot after another, as much as the widest slot needs. */
export class PitchSums {
  /** g_t: b by b, and for each b row n, column h. */
  readonly sums: Float64Array;
  /** Sums of f_t over the m of one class, for the h of one b: row class, column h. */
  readonly byRow: Float64Array;
  /** The same weighed for one class of steps to come: row class, column h. */
  readonly byColumn: Float64Array;
  /** By n: the pitch before that has the same coordinate; -1 where none has. */
  readonly sameAs: Int32Array;

  constructor(lattice: Lattice, weights: Weights) {
    const { slots } = lattice;
    const { classes } = weights.ofTurns(lattice);
    const placements = slots.reduce((most, slot) => Math.max(most, slot.placements.length), 0);
    const pitches = slots.reduce((most, slot) => Math.max(most, slot.pitches.length), 0);
    this.sums = new Float64Array(placements * pitches);
    this.byRow = new Float64Array(classes.rows * placements);
    this.byColumn = new Float64Array(classes.columns * placements);
    this.sameAs = new Int32Array(pitches);
  }
}

/** f_t summed over the m of each class of first steps, for the h of pitch b. */
function sumByRow(
  lattice: Lattice,
  turns: TurnWeights,
  t: number,
  b: number,
  filtered: Filtered,
  byRow: Float64Array,
): void {
  const { pitches, placements, groupStart } = lattice.slots[t]!;
  const { pitches: before } = lattice.slots[t - 1]!;
  const { rowOf, rows } = turns.classes;
  const width = placements.length;
  const first = groupStart[b]!;
  const size = groupStart[b + 1]! - first;
  const here = pitches[b]! + lattice.reach;
  byRow.fill(0, 0, rows * size);
  for (let m = 0; m < before.length; m++) {
    const out = rowOf[here - before[m]!]! * size;
    const from = m * width + first;
    for (let k = 0; k < size; k++) byRow[out + k] = byRow[out + k]! + filtered[from + k]!;
  }
}

/** Weighs the sums by class of the first step for each class of the second. */
function sumByColumn({ classes, weights }: TurnWeights, size: number, { byRow, byColumn }: PitchSums): void {
  const { rows, columns } = classes;
  for (let column = 0; column < columns; column++) {
    const out = column * size;
    for (let k = 0; k < size; k++) {
      let sum = 0;
      let from = k;
      for (let at = column; at < rows * columns; at += columns) {
        sum += byRow[from]! * weights[at]!;
        from += size;
      }
      byColumn[out + k] = sum;
    }
  }
}

/** g_t at slot 0, where there are no turns. */
function startPitches(lattice: Lattice, weights: Weights, filtered: Filtered, sums: Float64Array): void {
  const { pitches, groupStart } = lattice.slots[0]!;
  const { steps } = weights.ofSlot(lattice.slots[0]!);
  const columns = lattice.slots[1]!.pitches.length;
  let out = 0;
  for (let b = 0; b < pitches.length; b++) {
    for (let n = 0; n < columns; n++) {
      const step = steps[b * columns + n]!;
      for (let h = groupStart[b]!; h < groupStart[b + 1]!; h++) sums[out++] = step * filtered[h]!;
    }
  }
}

/** g_t. */
export function sumOutPitch(
  lattice: Lattice,
  weights: Weights,
  t: number,
  filtered: Filtered,
  work: PitchSums,
): void {
  const { byColumn, sums, sameAs } = work;
  if (t === 0) {
    startPitches(lattice, weights, filtered, sums);
    return;
  }
  const { pitches, placements, groupStart } = lattice.slots[t]!;
  const { pitches: targets } = lattice.slots[t + 1]!;
  const { steps } = weights.ofSlot(lattice.slots[t]!);
  const turns = weights.ofTurns(lattice);
  const { extra } = turns;
  const { columnOf } = turns.classes;
  const width = placements.length;
  const columns = targets.length;
  const { reach } = lattice;
  findSame(targets, lattice.slots[t - 1]!.pitches, sameAs);
  let out = 0;
  for (let b = 0; b < pitches.length; b++) {
    const first = groupStart[b]!;
    const size = groupStart[b + 1]! - first;
    const here = pitches[b]!;
    sumByRow(lattice, turns, t, b, filtered, work.byRow);
    sumByColumn(turns, size, work);
    for (let n = 0; n < columns; n++) {
      const second = targets[n]! - here;
      const step = steps[b * columns + n]!;
      const from = columnOf[second + reach]! * size;
      const correction = sameAs[n]! < 0 ? 0 : extra[reach - second]!;
      if (correction === 0) {
        for (let k = 0; k < size; k++) sums[out++] = step * byColumn[from + k]!;
      } else {
        const same = sameAs[n]! * width + first;
        for (let k = 0; k < size; k++) {
          sums[out++] = step * (byColumn[from + k]! + correction * filtered[same + k]!);
        }
      }
    }
  }
}
