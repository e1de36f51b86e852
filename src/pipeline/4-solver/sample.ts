// Drawing a path with probability proportional to exp(-cost / temperature): forward filtering (filter.ts), then the last
// state by its weight, and from there back each state given the one after it.
import type { Chain } from './chain';
import { filteredWeights, type Filtered } from './filter';
import { keptOf } from './kept';
import type { Lattice, Path } from './lattice';
import { Draw } from './draw';
import { Trail } from './trail';
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
  if (kept.weights !== weights) kept.filtered.clear();
  kept.weights = weights;
  weights.keepOnly([lattice, ...kept.filtered.lattices]);
}

/** Everything needed to draw any number of paths from one lattice at one temperature. */
export interface Sampler {
  /** Draws a path; `random` gives numbers from 0 up to 1. Null when no path has any weight. */
  draw(random: () => number): Path | null;
}

/**
 * @param unit integer cost units to one natural unit
 * @param weights at that temperature, where there are some already
 * @param spacing as for `forwardSums`
 * @throws RangeError unless the temperature is above 0
 */
export function makeSampler(
  lattice: Lattice,
  temperature: number,
  unit: number,
  weights?: Weights,
  spacing?: number,
): Sampler {
  if (!(temperature > 0)) throw new RangeError('a temperature to draw at must be above 0');
  const used = weights ?? weightsFor(lattice, temperature, unit);
  keepWeights(lattice, used);
  let filtered: Chain<Filtered> | null = null;
  return {
    draw: (random) => {
      const draw = new Draw(lattice, used, random);
      const trail = new Trail<Filtered>(lattice.slots.length, draw);
      filtered ??= filteredWeights(lattice, used, spacing, (t, value) => trail.take(t, value));
      return drawPath(lattice, draw, trail, filtered);
    },
  };
}

function drawPath(
  lattice: Lattice,
  draw: Draw,
  trail: Trail<Filtered>,
  filtered: Chain<Filtered>,
): Path | null {
  const { slots } = lattice;
  const last = slots.length - 1;
  const path = new Int32Array(last + 1);
  let state = draw.last(filtered.at(last));
  if (state < 0) return null;
  path[last] = state % slots[last]!.placements.length;
  for (let t = last - 1; t >= 0; t--) {
    state = trail.before(t, state, (slot) => filtered.at(slot));
    path[t] = state % slots[t]!.placements.length;
    keptOf(lattice)?.watch('path', 1 - t / last);
  }
  return path;
}
