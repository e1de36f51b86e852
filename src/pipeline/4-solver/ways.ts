// The first of the two steps of forward.ts, the one that lets go of the pitch before:
//
//   G_t(h, n) = R_t(p(h), n) + min over m of  F_t(m, h) + S(p(h) - m, n - p(h)).
//
// By classes of steps (turns.ts) the minimum is that of
//
//   C_d(h) = min over c of  C(c, d) + min over m in class c of  F_t(m, h),      d = the class of n - p(h),
//
// but for the one m that n goes back to, which costs S where C(c, d) was counted. Where S is less, it lowers the minimum.
// Where S is more, C_d(h) is too low only if that m gave it, so only if C_d(h) = F_t(m, h) + C(c, d). Then F_t(m, h) is the
// least of its class, and the next to it takes its place.
import { barrier, clamp, infinite, type Lattice } from './lattice';
import { lesser, type Sums } from './sums';
import { takenBackCosts, turnClasses, type TurnClasses } from './turns';

/** Room for the G_t of one slot after another, as much as the widest slot needs. */
export class Ways {
  /** G_t: b by b, and for each b row n, column h. */
  readonly costs: Int32Array;
  /** The least of G_t over the h of b: row n, column b. */
  readonly least: Int32Array;
  /** Least F_t over the m of one class, for the h of one b: row class, column h. */
  readonly byRow: Int32Array;
  /** The next to the least of them. */
  readonly nextByRow: Int32Array;
  /** C_d(h) for the h of one b: row d, column h. */
  readonly byColumn: Int32Array;
  /** By n: the pitch before that has the same coordinate; -1 where none has. */
  readonly sameAs: Int32Array;
  readonly classes: TurnClasses;
  /** By first step: what taking it back costs beyond what it costs by class. */
  readonly takenBack: Int32Array;
  /** How many sums have been compared with a least one so far. */
  relaxed = 0;

  constructor({ slots, turnCosts, reach }: Lattice) {
    const placements = slots.reduce((most, slot) => Math.max(most, slot.placements.length), 0);
    const pitches = slots.reduce((most, slot) => Math.max(most, slot.pitches.length), 0);
    this.classes = turnClasses(turnCosts, reach);
    this.takenBack = takenBackCosts(turnCosts, this.classes);
    this.costs = new Int32Array(placements * pitches);
    this.least = new Int32Array(pitches * pitches);
    this.byRow = new Int32Array(this.classes.rows * placements);
    this.nextByRow = new Int32Array(this.classes.rows * placements);
    this.byColumn = new Int32Array(this.classes.columns * placements);
    this.sameAs = new Int32Array(pitches);
  }
}

/** For each pitch, the index of the one with the same coordinate among other pitches, -1 for none; both rise. */
export function findSame(pitches: Int32Array, others: Int32Array, result: Int32Array): void {
  let m = 0;
  for (let n = 0; n < pitches.length; n++) {
    while (m < others.length && others[m]! < pitches[n]!) m++;
    result[n] = others[m] === pitches[n] ? m : -1;
  }
}

/** The least F_t over the m of each class of first steps, and the next to it, for the h of pitch b. */
function leastByRow(lattice: Lattice, t: number, b: number, forward: Sums, ways: Ways): void {
  const { pitches, placements, groupStart } = lattice.slots[t]!;
  const { pitches: before } = lattice.slots[t - 1]!;
  const { rowOf, rows } = ways.classes;
  const { byRow, nextByRow } = ways;
  const width = placements.length;
  const first = groupStart[b]!;
  const size = groupStart[b + 1]! - first;
  const here = pitches[b]! + lattice.reach;
  byRow.fill(infinite, 0, rows * size);
  nextByRow.fill(infinite, 0, rows * size);
  for (let m = 0; m < before.length; m++) {
    const out = rowOf[here - before[m]!]! * size;
    const from = m * width + first;
    for (let k = 0; k < size; k++) {
      const sum = forward[from + k]!;
      const least = byRow[out + k]!;
      const less = lesser(least, sum);
      byRow[out + k] = less;
      nextByRow[out + k] = lesser(nextByRow[out + k]!, (least + sum - less) | 0);
    }
  }
}

/** C_d(h) for `size` placements h. */
function leastByColumn(size: number, { classes, byRow, byColumn }: Ways): void {
  const { rows, columns, costs } = classes;
  const blocked = infinite;
  for (let column = 0; column < columns; column++) {
    const out = column * size;
    for (let k = 0; k < size; k++) {
      let least = blocked;
      let from = k;
      for (let at = column; at < rows * columns; at += columns) {
        least = lesser(least, (byRow[from]! + costs[at]!) | 0);
        from += size;
      }
      byColumn[out + k] = least;
    }
  }
}

/** C_d of placement k of `size` without the m that gave it, which is the least of its class `own`. */
function nextByColumn(size: number, k: number, own: number, column: number, ways: Ways): number {
  const { classes, byRow, nextByRow } = ways;
  const { rows, columns, costs } = classes;
  let least: number = infinite;
  ways.relaxed += rows;
  for (let row = 0; row < rows; row++) {
    const sums = row === own ? nextByRow : byRow;
    least = lesser(least, (sums[row * size + k]! + costs[row * columns + column]!) | 0);
  }
  return least;
}

/** Fills in G_t(h, n) for all h and n, and their least by b. */
export function fillWays(lattice: Lattice, t: number, forward: Sums, ways: Ways): void {
  const { pitches, groupStart } = lattice.slots[t]!;
  const { pitches: targets } = lattice.slots[t + 1]!;
  if (t > 0) findSame(targets, lattice.slots[t - 1]!.pitches, ways.sameAs);
  for (let b = 0; b < pitches.length; b++) {
    const size = groupStart[b + 1]! - groupStart[b]!;
    ways.relaxed += targets.length * size;
    if (t === 0) {
      start(lattice, b, forward, ways);
      continue;
    }
    const { classes } = ways;
    ways.relaxed += (2 * lattice.slots[t - 1]!.pitches.length + classes.rows * classes.columns) * size;
    leastByRow(lattice, t, b, forward, ways);
    leastByColumn(size, ways);
    onward(lattice, t, b, forward, ways);
  }
}

/** G_0(h, n) for the h of pitch b: there are no turns. */
function start({ slots }: Lattice, b: number, forward: Sums, { costs, least }: Ways): void {
  const { pitches, groupStart, stepCosts } = slots[0]!;
  const columns = slots[1]!.pitches.length;
  let out = groupStart[b]! * columns;
  for (let n = 0; n < columns; n++) {
    let lowest: number = infinite;
    for (let h = groupStart[b]!; h < groupStart[b + 1]!; h++) {
      const way = clamp(forward[h]! + stepCosts[b * columns + n]!);
      costs[out++] = way;
      if (way < lowest) lowest = way;
    }
    least[n * pitches.length + b] = lowest;
  }
}

/** G_t(h, n) for the h of pitch b, from C_d(h). */
function onward(lattice: Lattice, t: number, b: number, forward: Sums, ways: Ways): void {
  const { pitches, placements, groupStart, stepCosts } = lattice.slots[t]!;
  const { pitches: targets } = lattice.slots[t + 1]!;
  const { reach } = lattice;
  const { classes, byColumn, costs, least, sameAs, takenBack } = ways;
  const { rowOf, columnOf, columns: classCount, costs: classCosts } = classes;
  const [rows, columns, width] = [pitches.length, targets.length, placements.length];
  const first = groupStart[b]!;
  const size = groupStart[b + 1]! - first;
  const here = pitches[b]!;
  const limit = barrier;
  const blocked = infinite;
  let out = first * columns;
  for (let n = 0; n < columns; n++) {
    const step = stepCosts[b * columns + n]!;
    const second = targets[n]! - here;
    const column = columnOf[reach + second]!;
    const row = rowOf[reach - second]!;
    const ofClass = classCosts[row * classCount + column]!;
    const more = sameAs[n]! < 0 ? 0 : takenBack[reach - second]!;
    const same = sameAs[n]! * width + first;
    const from = column * size;
    let lowest = blocked;
    for (let k = 0; k < size; k++) {
      let way = byColumn[from + k]!;
      if (more !== 0) {
        const own = (forward[same + k]! + ofClass) | 0;
        if (own === way && own < limit && more > 0) way = nextByColumn(size, k, row, column, ways);
        way = lesser(way, (own + more) | 0);
      }
      way = (way + step) | 0;
      way = way >= limit ? blocked : way;
      costs[out++] = way;
      lowest = lesser(lowest, way);
    }
    least[n * rows + b] = lowest;
  }
}
