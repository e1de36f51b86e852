// The state that both passes of the minimum run over, and the messages they leave.
//
// State at slot t: (g, h) = (memory state, placement). Given it, what comes before and what comes after are independent.
// With the min-sum messages (Viterbi 1967; Kschischang, Frey & Loeliger 2001, "Factor graphs and the sum-product
// algorithm")
//
//   F_t(g, h)    least cost of slots 0..t that ends in (g, h)        forward-messages.ts
//   W_t(g, h)    least cost of what is left from (g, h) on           backward-messages.ts
//
// F_t(g, h) + W_t(g, h) is the cost of the best whole path through (g, h): its minimum over g, less the optimum, is the
// min-marginal, or price, of placement h at slot t.
//
// Each message is kept less its least entry. No choice depends on it, numbers stay small however long the path, and
// messages that differ by a constant are equal: that is how a chain sees that an edit no longer matters.
import { barrier, clamp, infinite, rowsAt, type Lattice, type LatticeSlot } from './lattice';

/** Sums over the states of one slot: row g, column h. */
export type Sums = Int32Array;

/** Weight of all paths up to each state of one slot (filtering.ts): row g, column h. */
export type Filtered = Float64Array;

/**
 * What look-ahead-entropy.ts hands from a slot to the one before it, by state: a, and a (log a - d E). What stands at states
 * that no step leads to is never counted.
 */
export interface Onward {
  readonly weights: Float64Array;
  readonly worth: Float64Array;
}

/** There, sums over all ways on from a state: Z, and of f (S log f + M). Good until the next ones are asked for. */
export interface Totals {
  readonly z: Float64Array;
  readonly worth: Float64Array;
}

/** States of slot t. */
export const stateCount = (lattice: Lattice, t: number): number =>
  rowsAt(lattice, t) * lattice.slots[t]!.placements.length;

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

/** The message less its least entry, blocked entries made the same; changed in place. */
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
