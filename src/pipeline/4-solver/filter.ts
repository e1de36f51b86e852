// The weight of all ways into a state: the recursion of forward.ts with weights w = exp(-cost / temperature) and sums in
// place of costs and minima,
//
//   g_t(h, n)       = sum over m of  f_t(m, h) r_t(p(h), n) s(p(h) - m, n - p(h))
//   f_{t+1}(b, h')  = a(h') b(h') sum over h with pitch b of  g_t(h, p(h')) v_t(h, h').
//
// Each slot's table is scaled by its largest entry and its entries are rounded to 26 bits; the scales cancel in every
// choice, and the rounding moves no probability by more than 1e-8. Rounded tables become equal some slots after an edit,
// so a chain can take the rest over. Sums are always taken in the same order: another order would round otherwise.
import { Chain, type Recursion } from './chain';
import { keptOf, matchSlots, stepNumbers } from './kept';
import type { Lattice } from './lattice';
import { rowCount, stateCount, turnStarts } from './sums';
import { scaleToOne, type Weights } from './weights';

/** Weight of all paths up to each state of one slot: row m, column h. */
export type Filtered = Float64Array;

/** Room for what a step needs while it runs, for the widest slot of a lattice. */
class Workspace {
  /** r s by n and m, for one b: row n, column m. */
  readonly onward: Float64Array;
  /** f_t(., h) of one h. */
  readonly column: Float64Array;
  /** g_t: row h, column n. */
  readonly summed: Float64Array;

  constructor({ slots }: Lattice) {
    const placements = slots.reduce((most, slot) => Math.max(most, slot.placements.length), 0);
    const pitches = slots.reduce((most, slot) => Math.max(most, slot.pitches.length), 0);
    this.onward = new Float64Array(pitches * pitches);
    this.column = new Float64Array(pitches);
    this.summed = new Float64Array(placements * pitches);
  }
}

/** Weights of going on through pitch b of slot t, step and turn. One column at slot 0. */
function fillOnward(lattice: Lattice, weights: Weights, t: number, b: number, onward: Float64Array): void {
  const { pitches: targets } = lattice.slots[t + 1]!;
  const { steps } = weights.ofSlot(lattice.slots[t]!);
  const turnWeights = weights.ofTable(lattice.turnCosts);
  const turns = turnStarts(lattice, t, b);
  const rows = rowCount(lattice, t);
  for (let n = 0; n < targets.length; n++) {
    const step = steps[b * targets.length + n]!;
    const target = targets[n]!;
    if (t === 0) onward[n] = step;
    else for (let m = 0; m < rows; m++) onward[n * rows + m] = step * turnWeights[turns[m]! + target]!;
  }
}

/** g_t. Four pitches to come a round; at the end the last one stands in for those that are missing. */
function sumOutPitch(
  lattice: Lattice,
  weights: Weights,
  t: number,
  filtered: Filtered,
  work: Workspace,
): Float64Array {
  const { pitches, placements, groupStart } = lattice.slots[t]!;
  const { onward, column, summed } = work;
  const width = placements.length;
  const columns = lattice.slots[t + 1]!.pitches.length;
  const last = columns - 1;
  const rows = rowCount(lattice, t);
  for (let b = 0; b < pitches.length; b++) {
    fillOnward(lattice, weights, t, b, onward);
    for (let h = groupStart[b]!; h < groupStart[b + 1]!; h++) {
      for (let m = 0; m < rows; m++) column[m] = filtered[m * width + h]!;
      for (let n = 0; n < columns; n += 4) {
        const n1 = Math.min(n + 1, last);
        const n2 = Math.min(n + 2, last);
        const n3 = Math.min(n + 3, last);
        let sum0 = 0;
        let sum1 = 0;
        let sum2 = 0;
        let sum3 = 0;
        for (let m = 0; m < rows; m++) {
          const weight = column[m]!;
          sum0 += weight * onward[n * rows + m]!;
          sum1 += weight * onward[n1 * rows + m]!;
          sum2 += weight * onward[n2 * rows + m]!;
          sum3 += weight * onward[n3 * rows + m]!;
        }
        summed[h * columns + n] = sum0;
        summed[h * columns + n1] = sum1;
        summed[h * columns + n2] = sum2;
        summed[h * columns + n3] = sum3;
      }
    }
  }
  return summed;
}

/** f_{t+1} from g_t. Four placements a round, in pairs; those that are missing at the end weigh nothing. */
function sumOutPlacement(lattice: Lattice, weights: Weights, t: number, summed: Float64Array): Filtered {
  const { pitches, placements, groupStart, moves } = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const { placements: targets, groupStart: targetStart } = next;
  const { placementCount } = lattice;
  const columns = next.pitches.length;
  const width = targets.length;
  const table = weights.ofTable(moves.costs);
  const { unary } = weights.ofSlot(next);
  const result = new Float64Array(pitches.length * width);
  for (let b = 0; b < pitches.length; b++) {
    const out = b * width;
    const last = groupStart[b + 1]! - 1;
    for (let h = groupStart[b]!; h <= last; h += 4) {
      const h1 = Math.min(h + 1, last);
      const h2 = Math.min(h + 2, last);
      const h3 = Math.min(h + 3, last);
      const row0 = placements[h]! * placementCount;
      const row1 = placements[h1]! * placementCount;
      const row2 = placements[h2]! * placementCount;
      const row3 = placements[h3]! * placementCount;
      for (let n = 0; n < columns; n++) {
        const weight0 = summed[h * columns + n]!;
        const weight1 = h + 1 > last ? 0 : summed[h1 * columns + n]!;
        const weight2 = h + 2 > last ? 0 : summed[h2 * columns + n]!;
        const weight3 = h + 3 > last ? 0 : summed[h3 * columns + n]!;
        const end = targetStart[n + 1]!;
        for (let to = targetStart[n]!; to < end; to++) {
          const target = targets[to]!;
          const pair = weight0 * table[row0 + target]! + weight1 * table[row1 + target]!;
          const otherPair = weight2 * table[row2 + target]! + weight3 * table[row3 + target]!;
          result[out + to] = result[out + to]! + pair + otherPair;
        }
      }
    }
    for (let to = 0; to < width; to++) result[out + to]! *= unary[to]!;
  }
  scaleToOne(result);
  roundAll(result);
  return result;
}

/** 2^27 + 1: the product with it, less what it grew by, keeps the upper 26 bits of a number (Veltkamp's splitting). */
const splitter = 134_217_729;

function roundAll(values: Float64Array): void {
  for (let index = 0; index < values.length; index++) {
    const product = splitter * values[index]!;
    values[index] = product - (product - values[index]!);
  }
}

/** Equal to the bit. */
function isSameFiltered(a: Filtered, b: Filtered): boolean {
  if (a.length !== b.length) return false;
  for (let state = 0; state < a.length; state++) if (a[state] !== b[state]) return false;
  return true;
}

/** f_t at every slot t. */
export function filteredWeights(lattice: Lattice, weights: Weights): Chain<Filtered> {
  const { slots } = lattice;
  const kept = keptOf(lattice);
  const work = new Workspace(lattice);
  const recursion: Recursion<Filtered> = {
    length: slots.length,
    first: () => weights.ofSlot(slots[0]!).unary,
    next: (t, filtered) =>
      sumOutPlacement(lattice, weights, t, sumOutPitch(lattice, weights, t, filtered, work)),
    isSame: isSameFiltered,
    bytesAt: (t) => stateCount(lattice, t) * Float64Array.BYTES_PER_ELEMENT,
    steps: stepNumbers(lattice),
  };
  const before = kept?.filtered;
  const earlier = before && { chain: before.chain, match: matchSlots(before.lattice, lattice) };
  const chain = new Chain(recursion, earlier, (done) => kept?.watch('filter', done));
  if (kept) kept.filtered = { lattice, chain };
  return chain;
}
