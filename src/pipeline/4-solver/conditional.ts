// Part of a path drawn again while the rest stays: the same exact draw on a window of the lattice whose edges are fixed.
//
// A turn looks at three slots, so two slots on either side of the window hold all that the inside depends on.
import type { Lattice, LatticeSlot, Path } from './lattice';
import { pitchOfPlacement } from './lattice';
import { makeSampler, weightsFor } from './sample';
import { Weights } from './weights';

/** Slots on either side of a window that its costs look at. */
const margin = 2;

/** What a slot of the window offers: everything, or the one placement that stays. */
type Offer = 'all' | number;

interface Offered {
  readonly pitches: readonly number[];
  readonly placements: readonly number[];
}

function offeredBy(slot: LatticeSlot, offer: Offer): Offered {
  if (offer === 'all') {
    return { pitches: [...slot.pitches.keys()], placements: [...slot.placements.keys()] };
  }
  return { pitches: [pitchOfPlacement(slot)[offer]!], placements: [offer] };
}

const pick = (values: Int32Array, indices: readonly number[]): Int32Array =>
  Int32Array.from(indices, (index) => values[index]!);

function restrict(
  slot: LatticeSlot,
  offer: Offer,
  next: LatticeSlot | undefined,
  nextOffer: Offer,
): LatticeSlot {
  if (offer === 'all' && nextOffer === 'all' && next) return slot;
  const { pitches, placements } = offeredBy(slot, offer);
  const columns = next ? offeredBy(next, nextOffer).pitches : [];
  const steps = pitches.flatMap((row) =>
    columns.map((column) => slot.stepCosts[row * next!.pitches.length + column]!),
  );
  return {
    pitches: pick(slot.pitches, pitches),
    pitchCosts: pick(slot.pitchCosts, pitches),
    placements: pick(slot.placements, placements),
    placementCosts: pick(slot.placementCosts, placements),
    groupStart: offer === 'all' ? slot.groupStart : Int32Array.of(0, 1),
    stepCosts: Int32Array.from(steps),
    moves: slot.moves,
  };
}

/**
 * Slots `from` to `to` of a path, given everything around them: for drawing as often as one likes.
 * @returns draws the whole path with that part new; null when the part has no way through
 */
export function makeRedraw(
  lattice: Lattice,
  path: Path,
  from: number,
  to: number,
  temperature: number,
  unit: number,
): (random: () => number) => Path | null {
  const first = Math.max(0, from - margin);
  const last = Math.min(lattice.slots.length - 1, to + margin);
  const offerAt = (t: number): Offer => (t < from || t > to ? path[t]! : 'all');
  const slots: LatticeSlot[] = [];
  for (let t = first; t <= last; t++) {
    const next = t < last ? lattice.slots[t + 1] : undefined;
    slots.push(restrict(lattice.slots[t]!, offerAt(t), next, offerAt(t + 1)));
  }
  const { placementCount, turnCosts, reach } = lattice;
  const window: Lattice = { slots, placementCount, turnCosts, reach };
  const weights = new Weights(temperature, unit, weightsFor(lattice, temperature, unit));
  const sampler = makeSampler(window, temperature, unit, weights);
  return (random) => {
    const drawn = sampler.draw(random);
    if (!drawn) return null;
    const result = path.slice();
    for (let t = from; t <= to; t++) result[t] = drawn[t - first]!;
    return result;
  };
}

/** One draw of the same. */
export const redraw = (
  lattice: Lattice,
  path: Path,
  from: number,
  to: number,
  temperature: number,
  unit: number,
  random: () => number,
): Path | null => makeRedraw(lattice, path, from, to, temperature, unit)(random);
