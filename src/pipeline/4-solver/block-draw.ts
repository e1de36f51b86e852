// Part of a path drawn again while the rest stays: the same exact draw on a window of the lattice whose edges are fixed (a
// block update given all else: Jensen, Kjaerulff & Kong 1995, "Blocking Gibbs sampling").
//
// On the left one slot holds all that the inside depends on, since the memory there is known. On the right the fixed notes
// go on until the memory is the same whatever came before: from there on nothing that the window chooses is felt.
import type { Lattice, LatticeSlot, Path } from './lattice';
import { barrier, memoriesOf, pitchAt, pitchOfPlacement, rowsAt, ruleAt } from './lattice';
import { makeSampler, weightsFor } from './sampler';
import { Weights } from './boltzmann';

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
  const cells = pitches.flatMap((row) => columns.map((column) => row * next!.pitches.length + column));
  return {
    pitches: pick(slot.pitches, pitches),
    pitchCosts: pick(slot.pitchCosts, pitches),
    placements: pick(slot.placements, placements),
    placementCosts: pick(slot.placementCosts, placements),
    groupStart: offer === 'all' ? slot.groupStart : Int32Array.of(0, 1),
    stepCosts: Int32Array.from(cells, (cell) => slot.stepCosts[cell]!),
    rules: slot.rules,
    ruleOf: Uint16Array.from(cells, (cell) => slot.ruleOf[cell]!),
    moves: slot.moves,
    ...(slot.memoryRows === undefined ? {} : { memoryRows: slot.memoryRows }),
  };
}

/** The first slot after `to` at which the memory of a path does not depend on what it was at `to + 1`. */
export function settledAfter(lattice: Lattice, path: ArrayLike<number>, to: number): number {
  const { slots } = lattice;
  let t = to + 1;
  if (t >= slots.length) return slots.length - 1;
  let states = new Set(Array.from({ length: rowsAt(lattice, t) }, (_, g) => g));
  for (; t + 1 < slots.length && states.size > 1; t++) {
    const next = slots[t + 1]!;
    const rule = ruleAt(
      slots[t]!,
      pitchAt(slots[t]!, path[t]!),
      pitchAt(next, path[t + 1]!),
      next.pitches.length,
    );
    states = new Set([...states].filter((g) => rule.costs[g]! < barrier).map((g) => rule.next[g]!));
  }
  return Math.min(t, slots.length - 1);
}

/** Slots `from` to `to` free, all that is felt around them as a path has it: a lattice of its own and where it begins. */
export interface BlockLattice {
  readonly lattice: Lattice;
  readonly first: number;
}

/** @param offersAt what a free slot offers; everything when left out */
export function blockOf(lattice: Lattice, path: Path, from: number, to: number): BlockLattice {
  const first = Math.max(0, from - 1);
  const last = settledAfter(lattice, path, to);
  const offerAt = (t: number): Offer => (t < from || t > to ? path[t]! : 'all');
  const slots: LatticeSlot[] = [];
  for (let t = first; t <= last; t++) {
    const next = t < last ? lattice.slots[t + 1] : undefined;
    slots.push(restrict(lattice.slots[t]!, offerAt(t), next, offerAt(t + 1)));
  }
  const { placementCount, memoryCount, vectors } = lattice;
  const startMemory = memoriesOf(lattice, path)[first]!;
  return { first, lattice: { slots, placementCount, memoryCount, startMemory, vectors } };
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
  const block = blockOf(lattice, path, from, to);
  const weights = new Weights(temperature, unit, weightsFor(lattice, temperature, unit));
  const sampler = makeSampler(block.lattice, temperature, unit, weights);
  return (random) => {
    const drawn = sampler.draw(random);
    if (!drawn) return null;
    const result = path.slice();
    for (let t = from; t <= to; t++) result[t] = drawn[t - block.first]!;
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
