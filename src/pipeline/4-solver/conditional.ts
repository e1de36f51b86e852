// Part of a path drawn again while the rest stays: the same exact draw on a window of the lattice whose edges are fixed.
//
// A turn looks at three slots, so two slots on either side of the window hold all that the inside depends on.
import type { Lattice, LatticeSlot, Path } from './lattice';
import { pitchOfPlacement } from './lattice';
import { makeSampler } from './sample';

/** Slots on either side of a window that its costs look at. */
const margin = 2;

/** What of a slot is kept: everything, or one placement. */
type Kept = 'all' | number;

interface KeptPitches {
  readonly pitches: readonly number[];
  readonly placements: readonly number[];
}

function keptOf(slot: LatticeSlot, kept: Kept): KeptPitches {
  if (kept === 'all') {
    return { pitches: [...slot.pitches.keys()], placements: [...slot.placements.keys()] };
  }
  return { pitches: [pitchOfPlacement(slot)[kept]!], placements: [kept] };
}

const pick = (values: Int32Array, indices: readonly number[]): Int32Array =>
  Int32Array.from(indices, (index) => values[index]!);

function restrict(slot: LatticeSlot, kept: Kept, next: LatticeSlot | undefined, nextKept: Kept): LatticeSlot {
  const { pitches, placements } = keptOf(slot, kept);
  const columns = next ? keptOf(next, nextKept).pitches : [];
  const steps = pitches.flatMap((row) =>
    columns.map((column) => slot.stepCosts[row * next!.pitches.length + column]!),
  );
  return {
    pitches: pick(slot.pitches, pitches),
    pitchCosts: pick(slot.pitchCosts, pitches),
    placements: pick(slot.placements, placements),
    placementCosts: pick(slot.placementCosts, placements),
    groupStart: kept === 'all' ? slot.groupStart : Int32Array.of(0, 1),
    stepCosts: Int32Array.from(steps),
    moves: slot.moves,
  };
}

/**
 * Draws slots `from` to `to` of a path again, given everything around them.
 * @returns the whole path with that part new; null when the part has no way through
 */
export function redraw(
  lattice: Lattice,
  path: Path,
  from: number,
  to: number,
  temperature: number,
  unit: number,
  random: () => number,
): Path | null {
  const first = Math.max(0, from - margin);
  const last = Math.min(lattice.slots.length - 1, to + margin);
  const keptAt = (t: number): Kept => (t < from || t > to ? path[t]! : 'all');
  const slots: LatticeSlot[] = [];
  for (let t = first; t <= last; t++) {
    const next = t < last ? lattice.slots[t + 1] : undefined;
    slots.push(restrict(lattice.slots[t]!, keptAt(t), next, keptAt(t + 1)));
  }
  const drawn = makeSampler({ ...lattice, slots }, temperature, unit).draw(random);
  if (!drawn) return null;
  const result = path.slice();
  for (let t = from; t <= to; t++) result[t] = drawn[t - first]!;
  return result;
}
