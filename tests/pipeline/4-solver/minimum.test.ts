import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  backwardSums,
  bestPath,
  clamp,
  forwardSums,
  infinite,
  pathCost,
  throughCosts,
  type Lattice,
} from '../../../src/pipeline/4-solver';
import { allPaths, randomLattice } from './random-lattice';

const runs = { numRuns: 3000, seed: 20240 };

/** Least cost over all paths by listing them; `infinite` when each of them is blocked somewhere. */
function bruteForce(lattice: Lattice, keep: (path: number[]) => boolean = () => true): number {
  let least = infinite;
  for (const path of allPaths(lattice)) if (keep(path)) least = Math.min(least, pathCost(lattice, path));
  return clamp(least);
}

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
    const flat: Lattice = {
      slots: [0, 1, 2].map((t) => ({
        pitches: Int32Array.of(0, 1),
        pitchCosts: Int32Array.of(0, 0),
        placements: Int32Array.of(0, 1, 2),
        placementCosts: Int32Array.of(0, 0, 0),
        groupStart: Int32Array.of(0, 1, 3),
        stepCosts: new Int32Array(t === 2 ? 0 : 4),
        moves: { costs: new Int32Array(9) },
      })),
      placementCount: 3,
      turnCosts: new Int32Array(9),
      reach: 1,
    };
    expect([...bestPath(flat)!.path]).toEqual([0, 0, 0]);
  });
});

describe('backwardSums', () => {
  it('agree with the forward sums on the optimum at every slot', () => {
    fc.assert(
      fc.property(randomLattice, (lattice) => {
        const best = bestPath(lattice);
        fc.pre(best !== null);
        const through = throughCosts(lattice, forwardSums(lattice), backwardSums(lattice));
        for (const slot of through) expect(Math.min(...slot)).toBe(best!.cost);
      }),
      runs,
    );
  });

  it('give for each placement the cost of the best path through it', () => {
    fc.assert(
      fc.property(randomLattice, fc.nat(), fc.nat(), (lattice, slotSeed, placementSeed) => {
        const t = slotSeed % lattice.slots.length;
        const h = placementSeed % lattice.slots[t]!.placements.length;
        const through = throughCosts(lattice, forwardSums(lattice), backwardSums(lattice));
        const forced = bruteForce(lattice, (path) => path[t] === h);
        expect(through[t]![h]).toBe(forced);
      }),
      runs,
    );
  });
});
