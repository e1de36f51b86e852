import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/music';
import { bestPath, makeSampler, pathCost, type Lattice } from '../../../src/pipeline/4-solver';
import { chiSquareExcess, openPaths, randomLattice } from './random-lattice';

/** Exact probability of each path of a small lattice, by listing them. */
function enumerate(lattice: Lattice, temperature: number, unit: number): Map<string, number> {
  const weights = openPaths(lattice).map(({ path, cost }) => ({
    key: path.join(),
    weight: Math.exp(-cost / unit / temperature),
  }));
  const total = weights.reduce((sum, one) => sum + one.weight, 0);
  return new Map(weights.map(({ key, weight }) => [key, weight / total]));
}

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
        expect(chiSquareExcess(counts, exact, draws)).toBeLessThan(0);
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

  it('draws many at once as it draws them one by one, however few messages are kept', () => {
    fc.assert(
      fc.property(
        randomLattice,
        fc.array(fc.integer(), { minLength: 1, maxLength: 6 }),
        fc.constantFrom(undefined, 2, 3),
        (lattice, seeds, spacing) => {
          const single = makeSampler(lattice, 1, 1000);
          const many = makeSampler(lattice, 1, 1000, undefined, spacing);
          expect(many.drawMany(seeds.map(seededRandom))).toEqual(
            seeds.map((seed) => single.draw(seededRandom(seed))),
          );
        },
      ),
      { numRuns: 300, seed: 8 },
    );
  });

  it('comes down to the best path as the temperature falls', () => {
    fc.assert(
      fc.property(randomLattice, fc.integer(), (lattice, seed) => {
        const best = bestPath(lattice);
        fc.pre(best !== null);
        const path = makeSampler(lattice, 0.1, 1000).draw(seededRandom(seed));
        // At this temperature a path 2 units of cost worse is drawn once in e^20.
        expect(pathCost(lattice, path!)).toBeLessThan(best.cost + 2000);
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
