// A chart's lattice with some of its placements left out: the same costs on an instance that slow solvers can finish.
import type { Random } from '../../src/music';
import { makeSampler, pitchOfPlacement, type Lattice, type LatticeSlot } from '../../src/pipeline/4-solver';

/** Paths of which every slot keeps its placement: by chance alone hardly any way through would be left. */
const keptPaths = 3;

/** Indices that a slot keeps: those it must, and others drawn by chance until there are so many; rising. */
function drawKept(count: number, must: readonly number[], most: number, random: Random): number[] {
  const kept = new Set(must);
  const left = Array.from({ length: count }, (_, index) => index).filter((index) => !kept.has(index));
  while (kept.size < most && left.length > 0)
    kept.add(left.splice(Math.floor(random() * left.length), 1)[0]!);
  return [...kept].sort((a, b) => a - b);
}

/** @param most placements that each slot keeps: those of a few paths drawn from the lattice, the rest by chance */
export function thinned(lattice: Lattice, most: number, random: Random): Lattice {
  const sampler = makeSampler(lattice, 1, 1000);
  const paths = Array.from({ length: keptPaths }, () => sampler.draw(random)!);
  const kept = lattice.slots.map((slot, t) =>
    drawKept(
      slot.placements.length,
      paths.map((path) => path[t]!),
      most,
      random,
    ),
  );
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
