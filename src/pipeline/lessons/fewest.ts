// One change at a time: of all paths of a lattice those with the fewest notes other than in a line before, of these the
// cheapest, of these one with the fewest fingers other than before. Exact, in this order, in one pass over numbers wide enough
// for all three.
import { pathCost, pitchAt, wideMessages, widePath, type Lattice, type Path } from '../4-solver';
import { valuesOf, type Before } from './exact-values';

/** Notes of a path that the line before has otherwise, or not at all, of the first `played` slots. */
export const changedIn = (lattice: Lattice, path: Path, before: Before): number =>
  before.filter((note, t) => {
    const slot = lattice.slots[t]!;
    return note?.midi !== slot.pitches[pitchAt(slot, path[t]!)]!;
  }).length;

/** A path with its cost. */
export interface FewestChanges {
  readonly path: Path;
  readonly cost: number;
  readonly changed: number;
}

/**
 * @param before by slot that is played; the return to the top may be left out
 * @returns null when there is no path
 */
export function fewestChanges(lattice: Lattice, before: Before): FewestChanges | null {
  const messages = wideMessages(lattice, valuesOf(lattice, before));
  if (!Number.isFinite(messages.least)) return null;
  const path = widePath(lattice, messages);
  return { path, cost: pathCost(lattice, path), changed: changedIn(lattice, path, before) };
}
