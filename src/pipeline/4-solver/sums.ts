// The state that both recursions of the best path run over, and the tables they leave.
//
// State at slot t: (m, h) = (pitch of slot t - 1, placement of slot t). A turn looks at two steps and a move at two
// placements, so what comes before and what comes after a state are independent given it. With
//
//   F_t(m, h)    least cost of slots 0..t that ends in (m, h)        forward.ts
//   W_t(m, h)    least cost of what is left from (m, h) on           backward.ts
//
// F_t(m, h) + W_t(m, h) is the cost of the best whole path through (m, h): its minimum over m, less the optimum, is the
// price of placement h at slot t. Paths have no state before slot 0, so there m is a single dummy with no turn cost.
//
// Each table is kept less its least entry. No choice depends on it, numbers stay small however long the path, and tables
// that differ by a constant are equal: that is how a chain sees that an edit no longer matters.
import { barrier, clamp, infinite, type Lattice, type LatticeSlot, type MoveTable } from './lattice';

/** F_t or W_t of one slot, less the least of them: row m (pitches of the slot before; one row at slot 0), column h. */
export type Sums = Int32Array;

/** Rows of the state at slot t: the pitches of the slot before, or the dummy. */
export const rowCount = (lattice: Lattice, t: number): number =>
  t === 0 ? 1 : lattice.slots[t - 1]!.pitches.length;

/** States of slot t. */
export const stateCount = (lattice: Lattice, t: number): number =>
  rowCount(lattice, t) * lattice.slots[t]!.placements.length;

/**
 * Where the turn costs from each pitch of the slot before through pitch b begin, so that the cost of going on to a
 * coordinate stands at `start + coordinate`. Empty at slot 0, where there are no turns.
 */
export function turnStarts({ slots, reach }: Lattice, t: number, b: number): Int32Array {
  const here = slots[t]!.pitches[b]!;
  const before = t === 0 ? noPitches : slots[t - 1]!.pitches;
  const result = new Int32Array(before.length);
  for (let m = 0; m < before.length; m++) {
    result[m] = (here - before[m]! + reach) * (2 * reach + 1) + reach - here;
  }
  return result;
}

const noPitches = new Int32Array(0);

export interface Range {
  readonly lowest: number;
  /** The highest less the lowest. */
  readonly spread: number;
}

/** What turns can cost, and how much two of them can differ. */
export function turnRange({ turnCosts }: Lattice): Range {
  let lowest = infinite;
  let highest = -infinite;
  for (const cost of turnCosts) {
    lowest = Math.min(lowest, cost);
    highest = Math.max(highest, cost);
  }
  return { lowest, spread: highest - lowest };
}

const leastMoves = new WeakMap<Int32Array, number>();

/** The least cost of any move of a table, looked for once. */
export function leastMove({ costs }: MoveTable): number {
  const found = leastMoves.get(costs);
  if (found !== undefined) return found;
  let least = infinite;
  for (const cost of costs) if (cost < least) least = cost;
  leastMoves.set(costs, least);
  return least;
}

/** The lesser of two costs, without a branch, since nothing tells beforehand which one it is. */
export function lesser(a: number, b: number): number {
  const difference = (a - b) | 0;
  return (b + (difference & (difference >> 31))) | 0;
}

/** A + B by placement. */
export function unaryCosts(slot: LatticeSlot): Int32Array {
  const result = new Int32Array(slot.placements.length);
  for (let pitch = 0; pitch < slot.pitches.length; pitch++) {
    for (let h = slot.groupStart[pitch]!; h < slot.groupStart[pitch + 1]!; h++) {
      result[h] = clamp(slot.pitchCosts[pitch]! + slot.placementCosts[h]!);
    }
  }
  return result;
}

/** The table less its least entry, blocked entries made the same; changed in place. */
export function levelled(sums: Sums): Sums {
  const blocked = infinite;
  const limit = barrier;
  let least = limit;
  for (let index = 0; index < sums.length; index++) if (sums[index]! < least) least = sums[index]!;
  for (let index = 0; index < sums.length; index++) {
    const sum = sums[index]!;
    sums[index] = sum >= limit ? blocked : sum - least;
  }
  return sums;
}

export function isSameSums(a: Sums, b: Sums): boolean {
  if (a.length !== b.length) return false;
  for (let state = 0; state < a.length; state++) if (a[state] !== b[state]) return false;
  return true;
}

/** Sorts indices by rising bound; by insertion, since they come nearly sorted. */
export function sortByBound(order: Int32Array, bounds: Int32Array): void {
  for (let k = 1; k < order.length; k++) {
    const index = order[k]!;
    const bound = bounds[index]!;
    let place = k;
    for (; place > 0 && bounds[order[place - 1]!]! > bound; place--) order[place] = order[place - 1]!;
    order[place] = index;
  }
}
