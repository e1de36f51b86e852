// Drawing a path with probability proportional to exp(-cost / temperature): forward filtering (filter.ts), then the last
// state by its weight, and from there back each state given the one after it.
import type { Chain } from './chain';
import { filteredWeights, type Filtered } from './filter';
import { keptOf } from './kept';
import { pitchOfPlacement, type Lattice, type Path } from './lattice';
import { turnStarts } from './sums';
import { Weights } from './weights';

/** The weights kept from the lattice before where they are at the same temperature, else new ones. */
export function weightsFor(lattice: Lattice, temperature: number, unit: number): Weights {
  const kept = keptOf(lattice);
  const before = kept?.weights;
  if (before?.temperature === temperature && before.unit === unit) return before;
  const made = new Weights(temperature, unit);
  if (kept) kept.weights ??= made;
  return made;
}

/** Makes these weights, and no more of them than the lattice needs, those that are kept. */
function keepWeights(lattice: Lattice, weights: Weights): void {
  const kept = keptOf(lattice);
  if (!kept) return;
  if (kept.weights !== weights) kept.filtered = null;
  kept.weights = weights;
  weights.keepOnly(lattice.slots, lattice.turnCosts);
}

/** Everything needed to draw any number of paths from one lattice at one temperature. */
export interface Sampler {
  /** Draws a path; `random` gives numbers from 0 up to 1. Null when no path has any weight. */
  draw(random: () => number): Path | null;
}

/**
 * @param unit integer cost units to one natural unit
 * @param weights at that temperature, where there are some already
 * @throws RangeError unless the temperature is above 0
 */
export function makeSampler(lattice: Lattice, temperature: number, unit: number, weights?: Weights): Sampler {
  if (!(temperature > 0)) throw new RangeError('a temperature to draw at must be above 0');
  const used = weights ?? weightsFor(lattice, temperature, unit);
  keepWeights(lattice, used);
  const filtered = filteredWeights(lattice, used);
  return { draw: (random) => drawPath(lattice, used, filtered, random) };
}

/** Draws an index with probability proportional to its weight; -1 when all are 0. */
function drawIndex(weights: Float64Array, random: () => number): number {
  let total = 0;
  for (const weight of weights) total += weight;
  if (!(total > 0)) return -1;
  let rest = random() * total;
  let last = -1;
  for (let index = 0; index < weights.length; index++) {
    const weight = weights[index]!;
    if (weight === 0) continue;
    last = index;
    rest -= weight;
    if (rest < 0) return index;
  }
  return last;
}

function drawPath(
  lattice: Lattice,
  weights: Weights,
  filtered: Chain<Filtered>,
  random: () => number,
): Path | null {
  const { slots } = lattice;
  const last = slots.length - 1;
  const path = new Int32Array(last + 1);
  const final = drawIndex(filtered.at(last), random);
  if (final < 0) return null;
  const lastWidth = slots[last]!.placements.length;
  path[last] = final % lastWidth;
  let b = Math.floor(final / lastWidth);
  for (let t = last - 1; t >= 0; t--) {
    const drawn = drawBefore(lattice, weights, t, filtered.at(t), b, path[t + 1]!, random);
    path[t] = drawn.placement;
    b = drawn.before;
    keptOf(lattice)?.watch('path', 1 - t / last);
  }
  return path;
}

/** Draws the state (m, h) of slot t that stands before pitch b and placement `to` of slot t + 1: h first, then m. */
function drawBefore(
  lattice: Lattice,
  weights: Weights,
  t: number,
  filtered: Filtered,
  b: number,
  to: number,
  random: () => number,
): { readonly placement: number; readonly before: number } {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const width = slot.placements.length;
  const start = slot.groupStart[b]!;
  const target = next.placements[to]!;
  const coordinate = next.pitches[pitchOfPlacement(next)[to]!]!;
  const turnWeights = weights.ofTable(lattice.turnCosts);
  const moves = weights.ofTable(slot.moves.costs);
  // The step weight is common to all of them.
  const turns =
    t === 0
      ? Float64Array.of(1)
      : Float64Array.from(turnStarts(lattice, t, b), (turn) => turnWeights[turn + coordinate]!);
  const rowsOf = (h: number): Float64Array => turns.map((turn, m) => turn * filtered[m * width + h]!);
  const byPlacement = new Float64Array(slot.groupStart[b + 1]! - start).map((_, index) => {
    const move = moves[slot.placements[start + index]! * lattice.placementCount + target]!;
    return move * rowsOf(start + index).reduce((sum, weight) => sum + weight, 0);
  });
  const placement = start + drawIndex(byPlacement, random);
  return { placement, before: drawIndex(rowsOf(placement), random) };
}
