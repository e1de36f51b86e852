// A ground on which the hand moves along the neck only while an open string rings or in a rest.
import { getOrMake } from '../../cache';
import type { Placement } from '../../instrument';
import type { SlotCandidates } from '../3-candidates';
import { barrier, infinite, kindOf, type Lattice, type MoveTable } from '../4-solver';
import { kindOfMove, moveContextOf, type CostModel } from '../5-line';

/** The lattice without moves along the neck between two stopped notes that follow each other; turns about the thumb stay. */
export function withoutBareShifts(
  lattice: Lattice,
  candidates: readonly SlotCandidates[],
  model: CostModel,
): Lattice {
  const used = new Map<number, Placement>();
  for (const { placements } of candidates) for (const one of placements) used.set(one.id, one);
  const made = new Map<MoveTable, MoveTable>();
  const tableAt = (t: number, moves: MoveTable): MoveTable => {
    const context = moveContextOf(model, candidates[t]!.slot, (candidates[t + 1] ?? candidates[t]!).slot);
    const costs = moves.costs.slice();
    const kinds = new Map<number, Placement>();
    for (const one of used.values()) kinds.set(kindOf(moves, one.id), one);
    const columns = moves.counted?.kinds ?? lattice.placementCount;
    for (const [a, from] of kinds) {
      for (const [b, to] of kinds) {
        const at = a * columns + b;
        if (costs[at]! < barrier && kindOfMove(context, from, to) === 'bare shift') costs[at] = infinite;
      }
    }
    return { ...moves, costs };
  };
  const { placementCount, memoryCount, startMemory, vectors } = lattice;
  const slots = lattice.slots.map((slot, t) => ({
    ...slot,
    moves: getOrMake(made, slot.moves, () => tableAt(t, slot.moves)),
  }));
  return { slots, placementCount, memoryCount, startMemory, vectors };
}
