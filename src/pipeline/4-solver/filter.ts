// The weight of all ways into a state: the recursion of forward.ts with weights w = exp(-cost / temperature) and sums in
// place of costs and minima,
//
//   g_t(h, n)       = sum over m of  f_t(m, h) r_t(p(h), n) s(p(h) - m, n - p(h))
//   f_{t+1}(b, h')  = a(h') b(h') sum over h with pitch b of  g_t(h, p(h')) v_t(h, h').
//
// Each slot's table is scaled by its largest entry and its entries are rounded to 26 bits; the scales cancel in every
// choice, and the rounding moves no probability by more than 1e-8. Rounded tables become equal some slots after an edit,
// so a chain can take the rest over. Sums are always taken in the same order: another order would round otherwise.
import { Chain, type Recursion, type Visit } from './chain';
import { keptOf, stepNumbers } from './kept';
import type { Lattice } from './lattice';
import { PitchSums, sumOutPitch, type Filtered } from './pitch-sums';
import { stateCount } from './sums';
import type { Weights } from './weights';

export type { Filtered };

/** Room for what a step needs while it runs, for the widest slot of a lattice. */
class Workspace {
  /** g_t. */
  readonly onPitches: PitchSums;
  /** f_{t+1} before it is scaled. */
  readonly weighed: Float64Array;

  constructor(lattice: Lattice, weights: Weights) {
    this.onPitches = new PitchSums(lattice, weights);
    const most = lattice.slots.map((_, t) => stateCount(lattice, t)).reduce((a, b) => Math.max(a, b), 0);
    this.weighed = new Float64Array(most);
  }
}

/** f_{t+1} from g_t, not yet scaled. Placements of one pitch are taken four at a time, those left over by twos. */
function sumOutPlacement(lattice: Lattice, weights: Weights, t: number, work: Workspace): void {
  const { pitches, groupStart, moves } = lattice.slots[t]!;
  const table = weights.ofTable(moves.costs);
  work.weighed.fill(0, 0, stateCount(lattice, t + 1));
  for (let b = 0; b < pitches.length; b++) {
    const end = groupStart[b + 1]!;
    let h = groupStart[b]!;
    for (; h + 4 <= end; h += 4) addFour(lattice, table, t, b, h, work);
    for (; h < end; h += 2) addTwo(lattice, table, t, b, h, work);
  }
}

/** Adds what comes through placements h to h + 3 of pitch b to row b, in pairs. */
function addFour(
  lattice: Lattice,
  table: Float64Array,
  t: number,
  b: number,
  h: number,
  { onPitches, weighed }: Workspace,
): void {
  const { placements, groupStart } = lattice.slots[t]!;
  const { placements: targets, groupStart: targetStart, pitches: columns } = lattice.slots[t + 1]!;
  const { placementCount } = lattice;
  const { sums } = onPitches;
  const first = groupStart[b]!;
  const size = groupStart[b + 1]! - first;
  const out = b * targets.length;
  const row0 = placements[h]! * placementCount;
  const row1 = placements[h + 1]! * placementCount;
  const row2 = placements[h + 2]! * placementCount;
  const row3 = placements[h + 3]! * placementCount;
  let from = first * columns.length + h - first;
  for (let n = 0; n < columns.length; n++) {
    const weight0 = sums[from]!;
    const weight1 = sums[from + 1]!;
    const weight2 = sums[from + 2]!;
    const weight3 = sums[from + 3]!;
    const end = targetStart[n + 1]!;
    for (let to = targetStart[n]!; to < end; to++) {
      const target = targets[to]!;
      const pair = weight0 * table[row0 + target]! + weight1 * table[row1 + target]!;
      const otherPair = weight2 * table[row2 + target]! + weight3 * table[row3 + target]!;
      weighed[out + to] = weighed[out + to]! + pair + otherPair;
    }
    from += size;
  }
}

/** The same for h and h + 1, or for h alone where it is the last of pitch b. */
function addTwo(
  lattice: Lattice,
  table: Float64Array,
  t: number,
  b: number,
  h: number,
  { onPitches, weighed }: Workspace,
): void {
  const { placements, groupStart } = lattice.slots[t]!;
  const { placements: targets, groupStart: targetStart, pitches: columns } = lattice.slots[t + 1]!;
  const { placementCount } = lattice;
  const { sums } = onPitches;
  const first = groupStart[b]!;
  const size = groupStart[b + 1]! - first;
  const isTwo = h + 1 < first + size;
  const out = b * targets.length;
  const row0 = placements[h]! * placementCount;
  const row1 = isTwo ? placements[h + 1]! * placementCount : row0;
  let from = first * columns.length + h - first;
  for (let n = 0; n < columns.length; n++) {
    const weight0 = sums[from]!;
    const weight1 = isTwo ? sums[from + 1]! : 0;
    const end = targetStart[n + 1]!;
    for (let to = targetStart[n]!; to < end; to++) {
      const target = targets[to]!;
      const pair = weight0 * table[row0 + target]! + weight1 * table[row1 + target]!;
      weighed[out + to] = weighed[out + to]! + pair;
    }
    from += size;
  }
}

/** f_{t+1}: what the slot costs by itself taken in, scaled to a largest entry of 1, rounded. */
function settle(lattice: Lattice, weights: Weights, t: number, { weighed }: Workspace): Filtered {
  const { unary } = weights.ofSlot(lattice.slots[t]!);
  const width = unary.length;
  const result = new Float64Array(stateCount(lattice, t));
  let largest = 0;
  for (let row = 0; row < result.length; row += width) {
    for (let h = 0; h < width; h++) {
      const weight = weighed[row + h]! * unary[h]!;
      result[row + h] = weight;
      if (weight > largest) largest = weight;
    }
  }
  const scale = largest === 0 ? 0 : 1 / largest;
  for (let state = 0; state < result.length; state++) result[state] = rounded(scale * result[state]!);
  return result;
}

/** 2^27 + 1: the product with it, less what it grew by, keeps the upper 26 bits of a number (Veltkamp's splitting). */
const splitter = 134_217_729;

function rounded(value: number): number {
  const product = splitter * value;
  return product - (product - value);
}

/** Equal to the bit. */
function isSameFiltered(a: Filtered, b: Filtered): boolean {
  if (a.length !== b.length) return false;
  for (let state = 0; state < a.length; state++) if (a[state] !== b[state]) return false;
  return true;
}

/** f_t at every slot t. @param spacing, visit as for `forwardSums` */
export function filteredWeights(
  lattice: Lattice,
  weights: Weights,
  spacing?: number,
  visit?: Visit<Filtered>,
): Chain<Filtered> {
  const { slots } = lattice;
  const kept = keptOf(lattice);
  const work = new Workspace(lattice, weights);
  const recursion: Recursion<Filtered> = {
    length: slots.length,
    first: () => weights.ofSlot(slots[0]!).unary,
    next: (t, filtered) => {
      sumOutPitch(lattice, weights, t, filtered, work.onPitches);
      sumOutPlacement(lattice, weights, t, work);
      return settle(lattice, weights, t + 1, work);
    },
    isSame: isSameFiltered,
    bytesAt: (t) => stateCount(lattice, t) * Float64Array.BYTES_PER_ELEMENT,
    steps: stepNumbers(lattice),
  };
  const earlier = kept?.filtered.closest(lattice) ?? null;
  const chain = new Chain(recursion, earlier, (done) => kept?.watch('filter', done), spacing, visit);
  kept?.filtered.add({ lattice, chain }, earlier);
  return chain;
}
