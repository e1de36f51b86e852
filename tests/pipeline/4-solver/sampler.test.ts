import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/music';
import {
  bestPath,
  emptySolvedCache,
  infinite,
  makeSampler,
  pathCost,
  type Lattice,
} from '../../../src/pipeline/4-solver';
import { weightsFor } from '../../../src/pipeline/4-solver/sampler';
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

/** Slots of two placements that cost the same unless it is said otherwise; any of them may follow on any. */
const evenLattice = (length: number, first = 0): Lattice => ({
  slots: Array.from({ length }, () => ({
    pitches: Int32Array.of(40),
    pitchCosts: new Int32Array(1),
    placements: Int32Array.of(0, 1),
    placementCosts: Int32Array.of(first, 0),
    groupStart: Int32Array.of(0, 2),
    stepCosts: new Int32Array(1),
    rules: [{ next: Uint16Array.of(0), costs: new Int32Array(1) }],
    ruleOf: new Uint16Array(1),
    moves: { costs: new Int32Array(4) },
  })),
  placementCount: 2,
  memoryCount: 1,
  startMemory: 0,
});

describe('a number from 0 up to 1', () => {
  const drawn = (lattice: Lattice, ...numbers: number[]): number[] | null => {
    const path = makeSampler(lattice, 1, 1000).draw(() => numbers.shift()!);
    return path && [...path];
  };

  it('takes the first state up to its share, and the next from there on', () => {
    expect([0, 0.499, 0.5, 0.999].map((number) => drawn(evenLattice(1), number))).toEqual([
      [0],
      [0],
      [1],
      [1],
    ]);
    // A cost of 1099 is a third of the weight: one in four.
    const cost = Math.round(1000 * Math.log(3));
    expect([0.2499, 0.2501].map((number) => drawn(evenLattice(1, cost), number))).toEqual([[0], [1]]);
    expect([0, 0.999].map((number) => drawn(evenLattice(1, infinite), number))).toEqual([[1], [1]]);
  });

  it('is for one slot, the last slot first', () => {
    expect(drawn(evenLattice(3), 0.1, 0.9, 0.1)).toEqual([0, 1, 0]);
    expect(drawn(evenLattice(3), 0.9, 0.1, 0.1)).toEqual([0, 0, 1]);
  });
});

describe('weights from lattice to lattice', () => {
  it('are kept at one temperature and unit, with what was filtered by them', () => {
    const cache = emptySolvedCache();
    const lattice = { ...evenLattice(4), cache };
    const used = weightsFor(lattice, 1, 1000);
    expect(cache.weights).toBe(used);
    expect(weightsFor(lattice, 1, 1000)).toBe(used);
    makeSampler(lattice, 1, 1000).draw(() => 0.5);
    expect(cache.weights).toBe(used);
    expect(cache.filtered.lattices).toHaveLength(1);
    makeSampler({ ...lattice }, 1, 1000);
    expect(cache.filtered.lattices).toHaveLength(1);
    for (const [temperature, unit] of [
      [2, 1000],
      [1, 100],
    ] as const) {
      expect(weightsFor(lattice, temperature, unit)).not.toBe(used);
      expect(weightsFor(lattice, temperature, unit)).toMatchObject({ temperature, unit });
    }
    expect(cache.weights).toBe(used);
    makeSampler(lattice, 2, 1000);
    expect(cache.weights).toMatchObject({ temperature: 2, unit: 1000 });
    expect(cache.filtered.lattices).toEqual([]);
    expect(weightsFor(evenLattice(4), 1, 1000)).not.toBe(weightsFor(evenLattice(4), 1, 1000));
  });

  it('are those of the lattice that is drawn from, and of those filtered before', () => {
    const cache = emptySolvedCache();
    const [one, other] = [evenLattice(4), evenLattice(3)].map((lattice) => ({ ...lattice, cache }));
    const sampler = makeSampler(one!, 1, 1000);
    sampler.draw(() => 0.5);
    const held = cache.weights!.arrays.length;
    expect(held).toBeGreaterThan(0);
    // The first lattice is one of those filtered: its weights stay beside the others.
    makeSampler(other!, 1, 1000).draw(() => 0.5);
    expect(cache.weights!.arrays.length).toBeGreaterThan(held);
    cache.filtered.clear();
    makeSampler(one!, 1, 1000);
    expect(cache.weights!.arrays).toHaveLength(held);
  });

  it('tell how far a path has come', () => {
    const toldFor = (length: number): number[] => {
      const cache = emptySolvedCache();
      const told: number[] = [];
      cache.watch = (pass, done) => {
        if (pass === 'path') told.push(done);
      };
      makeSampler({ ...evenLattice(length), cache }, 1, 1000).draw(() => 0.5);
      return told;
    };
    expect(toldFor(5)).toEqual([0, 0.25, 0.5, 0.75, 1]);
    expect(toldFor(1)).toEqual([1]);
  });
});
