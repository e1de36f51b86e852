// Solving again after an edit, at the price of the slots that the edit touches.
//
// A slot's forward sums depend on the slots up to it and its backward sums on the slots after it. When slots `from` to
// `to` change, F_t stays for t < from and W_t stays for t > to + 1 (its rows are the pitches of slot t - 1). So only the
// sums between are made again, and the best path is read where both kinds meet.
import { clamp, infinite, type Lattice, type LatticeSlot } from './lattice';
import {
  backwardStep,
  backwardSums,
  firstSums,
  forwardStep,
  forwardSums,
  lastSums,
  turnSpread,
  type Sums,
} from './minimum';
import { bestPathThrough, type Best } from './trace';

/** A lattice with its sums. Sums may be missing where an edit made them stale; they are made when they are needed. */
export interface Solved {
  readonly lattice: Lattice;
  readonly forward: readonly (Sums | undefined)[];
  readonly backward: readonly (Sums | undefined)[];
  readonly best: Best | null;
}

const numbersEqual = (a: Int32Array, b: Int32Array): boolean =>
  a === b || (a.length === b.length && a.every((value, index) => value === b[index]));

/** True when two slots cost the same in every way. */
export const isSameSlot = (a: LatticeSlot, b: LatticeSlot): boolean =>
  a === b ||
  (numbersEqual(a.pitches, b.pitches) &&
    numbersEqual(a.placements, b.placements) &&
    numbersEqual(a.groupStart, b.groupStart) &&
    numbersEqual(a.pitchCosts, b.pitchCosts) &&
    numbersEqual(a.placementCosts, b.placementCosts) &&
    numbersEqual(a.stepCosts, b.stepCosts) &&
    (a.moves === b.moves || numbersEqual(a.moves.costs, b.moves.costs)));

/** Solves from nothing, with the sums that later edits start from. */
export function solve(lattice: Lattice): Solved {
  const forward = forwardSums(lattice);
  const backward = backwardSums(lattice);
  return { lattice, forward, backward, best: bestAt(lattice, forward, backward, lattice.slots.length - 1) };
}

/** The best path, read from the sums of slot t. */
function bestAt(
  lattice: Lattice,
  forward: readonly (Sums | undefined)[],
  backward: readonly (Sums | undefined)[],
  t: number,
): Best | null {
  const width = lattice.slots[t]!.placements.length;
  const after = backward[t]!;
  let cost = infinite;
  let placement = -1;
  forward[t]!.forEach((sum, state) => {
    const total = clamp(sum + after[state]!);
    if (total < cost) {
      cost = total;
      placement = state % width;
    }
  });
  if (placement < 0) return null;
  return bestPathThrough(lattice, forward as readonly Sums[], backward as readonly Sums[], t, placement);
}

/** First and last slot in which two lattices of one shape differ; null when in none. */
function changedRange(a: Lattice, b: Lattice): { readonly from: number; readonly to: number } | null {
  const differs = b.slots.map((slot, t) => !isSameSlot(a.slots[t]!, slot));
  const from = differs.indexOf(true);
  return from < 0 ? null : { from, to: differs.lastIndexOf(true) };
}

/** True when the sums of one lattice can serve the other at all. */
const isComparable = (a: Lattice, b: Lattice): boolean =>
  a.slots.length === b.slots.length &&
  a.placementCount === b.placementCount &&
  a.reach === b.reach &&
  numbersEqual(a.turnCosts, b.turnCosts);

/** Solves a lattice that grew out of one solved before. The result is what `solve` gives; ties may be broken elsewhere. */
export function resolve(before: Solved, lattice: Lattice): Solved {
  if (!isComparable(before.lattice, lattice)) return solve(lattice);
  const changed = changedRange(before.lattice, lattice);
  if (!changed) return { ...before, lattice };
  const last = lattice.slots.length - 1;
  const join = Math.min(last, changed.to + 2);
  const forward = before.forward.map((sums, t) => (t < changed.from ? sums : undefined));
  const backward = before.backward.map((sums, t) => (t >= join ? sums : undefined));
  if (join === last) backward[last] = lastSums(lattice);
  const spread = turnSpread(lattice);
  fillForward(lattice, forward, join, spread);
  fillBackward(lattice, backward, join, spread);
  return { lattice, forward, backward, best: bestAt(lattice, forward, backward, join) };
}

/** Makes the forward sums up to slot t that are missing. */
function fillForward(lattice: Lattice, forward: (Sums | undefined)[], t: number, spread: number): void {
  let from = t;
  while (from >= 0 && !forward[from]) from--;
  for (let slot = from + 1; slot <= t; slot++) {
    forward[slot] =
      slot === 0 ? firstSums(lattice) : forwardStep(lattice, slot - 1, forward[slot - 1]!, spread);
  }
}

/** Makes the backward sums from slot t on that are missing. */
function fillBackward(lattice: Lattice, backward: (Sums | undefined)[], t: number, spread: number): void {
  const last = lattice.slots.length - 1;
  let from = t;
  while (from <= last && !backward[from]) from++;
  for (let slot = from - 1; slot >= t; slot--) {
    backward[slot] =
      slot === last ? lastSums(lattice) : backwardStep(lattice, slot, backward[slot + 1]!, spread);
  }
}

/** The same with all sums made, for prices at every slot. */
export function withAllSums(
  solved: Solved,
): Solved & { readonly forward: readonly Sums[]; readonly backward: readonly Sums[] } {
  const forward = [...solved.forward];
  const backward = [...solved.backward];
  const spread = turnSpread(solved.lattice);
  fillForward(solved.lattice, forward, forward.length - 1, spread);
  fillBackward(solved.lattice, backward, 0, spread);
  return { ...solved, forward: forward as Sums[], backward: backward as Sums[] };
}
