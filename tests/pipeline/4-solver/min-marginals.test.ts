import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bestPath,
  clamp,
  emptySolvedCache,
  infinite,
  memoriesOf,
  minMarginals,
  pathCost,
  type Lattice,
  type StepRule,
} from '../../../src/pipeline/4-solver';
import { allPaths, randomLattice } from './random-lattice';

const runs = { numRuns: 3000, seed: 20240 };

/** Least cost over all paths by listing them; `infinite` when each of them is blocked somewhere. */
function bruteForce(lattice: Lattice, keep: (path: number[]) => boolean = () => true): number {
  let least = infinite;
  for (const path of allPaths(lattice)) if (keep(path)) least = Math.min(least, pathCost(lattice, path));
  return clamp(least);
}

/** Pitches and their placements, which cost nothing. */
const shape = (pitches: readonly number[], groupStart: readonly number[]) => ({
  pitches: Int32Array.from(pitches),
  pitchCosts: new Int32Array(pitches.length),
  placements: Int32Array.from({ length: groupStart.at(-1)! }, (_, h) => h),
  placementCosts: new Int32Array(groupStart.at(-1)!),
  groupStart: Int32Array.from(groupStart),
  moves: { costs: new Int32Array(4) },
});

/** From both memory states to one, at no cost. */
const leadsTo = (memory: number): StepRule => ({
  next: Uint16Array.of(memory, memory),
  costs: new Int32Array(2),
});

/** Every path costs 0. */
const flat: Lattice = {
  slots: [0, 1, 2].map((t) => ({
    ...shape([0, 1], [0, 1, 3]),
    stepCosts: new Int32Array(t === 2 ? 0 : 4),
    rules: [{ next: Uint16Array.of(0), costs: Int32Array.of(0) }],
    ruleOf: new Uint16Array(t === 2 ? 0 : 4),
    moves: { costs: new Int32Array(9) },
  })),
  placementCount: 3,
  memoryCount: 1,
  startMemory: 0,
};

describe('bestPath', () => {
  it('costs what listing every path finds, and its path has that cost', () => {
    fc.assert(
      fc.property(randomLattice, (lattice) => {
        const best = bestPath(lattice);
        const expected = bruteForce(lattice);
        if (expected === infinite) {
          expect(best).toBeNull();
          return;
        }
        expect(best?.cost).toBe(expected);
        expect(pathCost(lattice, best!.path)).toBe(expected);
      }),
      runs,
    );
  });

  it('breaks ties the same way every time: by the lowest index, from the last slot back', () => {
    expect([...bestPath(flat)!.path]).toEqual([0, 0, 0]);
    const prices = minMarginals(flat)!;
    expect([...prices.pathThrough(1, 2)!.path]).toEqual([0, 2, 0]);
    expect([...prices.pathThrough(0, 1)!.path]).toEqual([1, 0, 0]);
  });

  it('takes the lower placement first in whatever memory state, then the lower state', () => {
    // From slot 0 the first pitch leads to memory 1 and the second to memory 0; slot 1 has two placements of one pitch.
    const lattice = (moves: readonly number[]): Lattice => ({
      slots: [
        {
          ...shape([0, 1], [0, 1, 2]),
          stepCosts: new Int32Array(2),
          rules: [leadsTo(1), leadsTo(0)],
          ruleOf: Uint16Array.of(0, 1),
          moves: { costs: Int32Array.from(moves) },
        },
        {
          ...shape([0], [0, 2]),
          stepCosts: new Int32Array(1),
          rules: [leadsTo(0)],
          ruleOf: new Uint16Array(1),
        },
        { ...shape([0], [0, 1]), stepCosts: new Int32Array(0), rules: [], ruleOf: new Uint16Array(0) },
      ],
      placementCount: 2,
      memoryCount: 2,
      startMemory: 0,
    });
    expect([...bestPath(lattice([0, 5, 5, 0]))!.path]).toEqual([0, 0, 0]);
    expect([...bestPath(lattice([0, 5, 0, 5]))!.path]).toEqual([1, 0, 0]);
  });

  it('is traced once for a lattice with a cache, and never handed out to be changed', () => {
    const cache = emptySolvedCache();
    const done: number[] = [];
    cache.watch = (pass, part) => {
      if (pass === 'path') done.push(part);
    };
    const lattice = { ...flat, cache };
    bestPath(lattice)!.path.fill(1);
    expect([...bestPath(lattice)!.path]).toEqual([0, 0, 0]);
    expect(done).toEqual([0.5, 1]);
    expect(bestPath({ ...flat, cache })?.cost).toBe(0);
    expect(done).toHaveLength(4);
  });
});

describe('minMarginals', () => {
  it('are 0 for some placement of every slot and never less', () => {
    fc.assert(
      fc.property(randomLattice, (lattice) => {
        const prices = minMarginals(lattice);
        expect(prices?.optimum).toBe(bestPath(lattice)?.cost);
        fc.pre(prices !== null);
        for (let t = 0; t < lattice.slots.length; t++) expect(Math.min(...prices.at(t))).toBe(0);
      }),
      runs,
    );
  });

  it('give for each placement the cost of the best path through it, above the optimum', () => {
    fc.assert(
      fc.property(randomLattice, fc.nat(), fc.nat(), (lattice, slotSeed, placementSeed) => {
        const t = slotSeed % lattice.slots.length;
        const h = placementSeed % lattice.slots[t]!.placements.length;
        const prices = minMarginals(lattice);
        fc.pre(prices !== null);
        const forced = bruteForce(lattice, (path) => path[t] === h);
        expect(prices.at(t)[h]).toBe(forced === infinite ? infinite : forced - prices.optimum);
      }),
      runs,
    );
  });

  it('come with a path through each placement at its price, or none where none is', () => {
    fc.assert(
      fc.property(randomLattice, (lattice) => {
        const prices = minMarginals(lattice);
        fc.pre(prices !== null);
        lattice.slots.forEach((_, t) => {
          prices.at(t).forEach((price, h) => {
            const best = prices.pathThrough(t, h);
            if (price === infinite) {
              expect(best).toBeNull();
              return;
            }
            expect(best!.path[t]).toBe(h);
            expect(best!.cost).toBe(prices.optimum + price);
            expect(pathCost(lattice, best!.path)).toBe(best!.cost);
          });
        });
      }),
      { numRuns: 400, seed: 12 },
    );
  });

  it('show two routes as far as they differ: outside of that they are one', () => {
    fc.assert(
      fc.property(randomLattice, fc.nat(), fc.nat(), fc.nat(), (lattice, slotSeed, a, b) => {
        const prices = minMarginals(lattice);
        fc.pre(prices !== null);
        const t = slotSeed % lattice.slots.length;
        const count = lattice.slots[t]!.placements.length;
        const [h, other] = [a % count, b % count] as const;
        fc.pre(h !== other);
        const parting = prices.parting(t, h, other);
        const ways = [prices.pathThrough(t, h), prices.pathThrough(t, other)];
        expect(parting === null).toBe(ways.includes(null));
        if (!parting) return;
        const { first, path } = parting;
        const end = first + path.length;
        expect([...ways[0]!.path.slice(first, end)]).toEqual([...path]);
        expect([...ways[1]!.path.slice(first, end)]).toEqual([...parting.other]);
        // At both ends they come from, and go to, one common state: the slot inside of it is another on each.
        const states = ways.map((way) =>
          memoriesOf(lattice, way!.path).map((memory, slot) => memory * 100 + way!.path[slot]!),
        );
        for (const edge of [first, end - 1])
          expect(edge === t || states[0]![edge] !== states[1]![edge]).toBe(true);
        expect([...ways[0]!.path.slice(0, first)]).toEqual([...ways[1]!.path.slice(0, first)]);
        expect([...ways[0]!.path.slice(end)]).toEqual([...ways[1]!.path.slice(end)]);
      }),
      { numRuns: 1000, seed: 13 },
    );
  });
});
