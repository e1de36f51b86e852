// A chart's lattice with some of its placements left out: the same costs on an instance that slow solvers can finish.
import type { Random } from '../../src/music';
import type { Lattice, LatticeSlot } from '../../src/pipeline/4-solver';
import { pitchOfPlacement } from '../../src/pipeline/4-solver';

/** Indices that a slot keeps: so many, drawn by chance, rising. */
function drawKept(count: number, most: number, random: Random): number[] {
  const left = Array.from({ length: count }, (_, index) => index);
  while (left.length > most) left.splice(Math.floor(random() * left.length), 1);
  return left;
}

/** @param most placements that each slot keeps */
export function thinned(lattice: Lattice, most: number, random: Random): Lattice {
  const kept = lattice.slots.map((slot) => drawKept(slot.placements.length, most, random));
  const pitchesOf = lattice.slots.map((slot, t) => {
    const pitchOf = pitchOfPlacement(slot);
    return [...new Set(kept[t]!.map((h) => pitchOf[h]!))];
  });
  const slots = lattice.slots.map((slot, t): LatticeSlot => {
    const pitchOf = pitchOfPlacement(slot);
    const pitches = pitchesOf[t]!;
    const next = pitchesOf[t + 1] ?? [];
    const columns = lattice.slots[t + 1]?.pitches.length ?? 0;
    const cells = pitches.flatMap((from) => next.map((to) => from * columns + to));
    return {
      pitches: Int32Array.from(pitches, (pitch) => slot.pitches[pitch]!),
      pitchCosts: Int32Array.from(pitches, (pitch) => slot.pitchCosts[pitch]!),
      placements: Int32Array.from(kept[t]!, (h) => slot.placements[h]!),
      placementCosts: Int32Array.from(kept[t]!, (h) => slot.placementCosts[h]!),
      groupStart: Int32Array.from(
        [...pitches, Infinity],
        (pitch) => kept[t]!.filter((h) => pitchOf[h]! < pitch).length,
      ),
      stepCosts: Int32Array.from(cells, (cell) => slot.stepCosts[cell]!),
      rules: slot.rules,
      ruleOf: Uint16Array.from(cells, (cell) => slot.ruleOf[cell]!),
      moves: slot.moves,
    };
  });
  return { ...lattice, slots };
}
