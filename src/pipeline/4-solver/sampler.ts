// Drawing paths with probability proportional to exp(-cost / temperature): forward filtering (filtering.ts), then the last
// state by its weight, and from there back each state given the one after it (backward-sampling.ts).
import type { Chain } from './checkpointing';
import { filteredWeights } from './filtering';
import { cacheOf } from './solved-cache';
import type { Lattice, Path } from './lattice';
import type { Filtered } from './messages';
import { Draw, Sources } from './backward-sampling';
import { Weights } from './boltzmann';

/** The weights kept from the lattice before where they are at the same temperature, else new ones. */
export function weightsFor(lattice: Lattice, temperature: number, unit: number): Weights {
  const cache = cacheOf(lattice);
  const before = cache?.weights;
  if (before?.temperature === temperature && before.unit === unit) return before;
  const made = new Weights(temperature, unit);
  if (cache) cache.weights ??= made;
  return made;
}

/** Makes these weights, and no more of them than the lattice needs, those that are kept. */
function keepWeights(lattice: Lattice, weights: Weights): void {
  const cache = cacheOf(lattice);
  if (!cache) return;
  if (cache.weights !== weights) cache.filtered.clear();
  cache.weights = weights;
  weights.keepOnly([lattice, ...cache.filtered.lattices]);
}

/** Everything needed to draw any number of paths from one lattice at one temperature. */
export interface Sampler {
  /** Draws a path; `random` gives numbers from 0 up to 1. Null when no path has any weight. */
  draw(random: () => number): Path | null;
  /** Draws one path for each source of numbers; where messages are not all kept, they are made again once for all of them. */
  drawMany(randoms: readonly (() => number)[]): readonly (Path | null)[];
}

/**
 * @param unit integer cost units to one natural unit
 * @param weights at that temperature, where there are some already
 * @param spacing as for `forwardMessages`
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
  const sources = new Sources();
  let filtered: Chain<Filtered> | null = null;
  const drawMany: Sampler['drawMany'] = (randoms) => {
    filtered ??= filteredWeights(lattice, used, spacing);
    const draws = randoms.map((random) => new Draw(lattice, used, sources, random));
    return drawPaths(lattice, filtered, draws);
  };
  return { draw: (random) => drawMany([random])[0]!, drawMany };
}

function drawPaths(
  lattice: Lattice,
  filtered: Chain<Filtered>,
  draws: readonly Draw[],
): readonly (Path | null)[] {
  const { slots } = lattice;
  const last = slots.length - 1;
  const states = draws.map((draw) => draw.last(filtered.at(last)));
  const paths = draws.map(() => new Int32Array(last + 1));
  for (let t = last; t >= 0; t--) {
    draws.forEach((draw, k) => {
      if (states[k]! < 0) return;
      if (t < last) states[k] = draw.before(t, filtered.at(t), states[k]!);
      paths[k]![t] = states[k]! % slots[t]!.placements.length;
    });
    cacheOf(lattice)?.watch('path', 1 - t / Math.max(1, last));
  }
  return paths.map((path, k) => (states[k]! < 0 ? null : path));
}
