import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/music';
import {
  barrier,
  bestPath,
  exponential,
  makeSampler,
  pathCost,
  type Lattice,
} from '../../../src/pipeline/4-solver';
import { allPaths, randomLattice } from './random-lattice';

/** Exact probability of each path of a small lattice, by listing them. */
function enumerate(lattice: Lattice, temperature: number, unit: number): Map<string, number> {
  const weights = allPaths(lattice)
    .map((path) => ({ path, cost: pathCost(lattice, path) }))
    .filter(({ cost }) => cost < barrier)
    .map(({ path, cost }) => ({ key: path.join(), weight: Math.exp(-cost / unit / temperature) }));
  const total = weights.reduce((sum, one) => sum + one.weight, 0);
  return new Map(weights.map(({ key, weight }) => [key, weight / total]));
}

describe('exponential', () => {
  it('agrees with the engine over the range that weights use', () => {
    for (let x = -690; x <= 40; x += 0.37) {
      expect(Math.abs(exponential(x) / Math.exp(x) - 1)).toBeLessThan(1e-11);
    }
    expect(exponential(0)).toBe(1);
    expect(exponential(-1e9)).toBe(0);
  });
});

describe('makeSampler', () => {
  it('draws each path as often as its probability says (chi-square, cells of at least 5 expected)', () => {
    const draws = 4000;
    fc.assert(
      fc.property(randomLattice, fc.integer(), (lattice, seed) => {
        const exact = enumerate(lattice, 1.3, 1000);
        fc.pre(exact.size > 1);
        const sampler = makeSampler(lattice, 1.3, 1000);
        const random = seededRandom(seed);
        const counts = new Map<string, number>();
        for (let k = 0; k < draws; k++) {
          const key = sampler.draw(random)!.join();
          counts.set(key, (counts.get(key) ?? 0) + 1);
        }
        for (const key of counts.keys()) expect(exact.has(key)).toBe(true);
        let chiSquare = 0;
        let cells = 0;
        for (const [key, probability] of exact) {
          const expected = probability * draws;
          if (expected < 5) continue;
          chiSquare += ((counts.get(key) ?? 0) - expected) ** 2 / expected;
          cells++;
        }
        // Mean + 5.5 standard deviations of the chi-square distribution: under 1 in 10^5 a run by chance; the seed is fixed.
        expect(chiSquare).toBeLessThan(cells + 5.5 * Math.sqrt(2 * cells) + 12);
      }),
      { numRuns: 60, seed: 77 },
    );
  });

  it('draws the same path from the same seed', () => {
    fc.assert(
      fc.property(randomLattice, fc.integer(), (lattice, seed) => {
        const draw = (): string | undefined =>
          makeSampler(lattice, 0.7, 1000).draw(seededRandom(seed))?.join();
        expect(draw()).toBe(draw());
      }),
      { numRuns: 200, seed: 5 },
    );
  });

  it('comes down to the best path as the temperature falls', () => {
    fc.assert(
      fc.property(randomLattice, fc.integer(), (lattice, seed) => {
        const best = bestPath(lattice);
        fc.pre(best !== null);
        const path = makeSampler(lattice, 0.02, 1000).draw(seededRandom(seed));
        // At this temperature a path 1 unit of cost worse is drawn once in e^50.
        expect(pathCost(lattice, path!)).toBeLessThan(best!.cost + 1000);
      }),
      { numRuns: 300, seed: 6 },
    );
  });

  it('gives null when every path is blocked', () => {
    fc.assert(
      fc.property(randomLattice, (lattice) => {
        const exact = enumerate(lattice, 1, 1000);
        fc.pre(exact.size === 0);
        expect(makeSampler(lattice, 1, 1000).draw(seededRandom(1))).toBeNull();
      }),
      { numRuns: 20, seed: 7, maxSkipsPerRun: 10_000 },
    );
  });

  it('refuses a temperature of 0', () => {
    const lattice = fc.sample(randomLattice, { numRuns: 1, seed: 1 })[0]!;
    expect(() => makeSampler(lattice, 0, 1000)).toThrow(RangeError);
  });
});
