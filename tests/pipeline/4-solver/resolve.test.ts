import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  backwardSums,
  bestPathThrough,
  forwardSums,
  pathCost,
  resolve,
  solve,
  throughCosts,
  withAllSums,
  infinite,
  type Lattice,
  type LatticeSlot,
} from '../../../src/pipeline/4-solver';
import { randomLattice } from './random-lattice';

/** The lattice with one slot's placement costs changed, as a pin or a price would. */
function edited(lattice: Lattice, slotSeed: number, costs: readonly number[]): Lattice {
  const t = slotSeed % lattice.slots.length;
  const slots = lattice.slots.map((slot, index): LatticeSlot => {
    if (index !== t) return slot;
    return { ...slot, placementCosts: slot.placementCosts.map((_, h) => costs[h % costs.length]!) };
  });
  return { ...lattice, slots };
}

const edit = fc.tuple(
  fc.nat(),
  fc.array(fc.oneof(fc.integer({ min: -2000, max: 2000 }), fc.constant(infinite)), {
    minLength: 1,
    maxLength: 6,
  }),
);

describe('resolve', () => {
  it('finds after each of many edits what solving from nothing finds', () => {
    fc.assert(
      fc.property(randomLattice, fc.array(edit, { minLength: 1, maxLength: 12 }), (lattice, edits) => {
        let solved = solve(lattice);
        for (const [slotSeed, costs] of edits) {
          solved = resolve(solved, edited(solved.lattice, slotSeed, costs));
          const fresh = solve(solved.lattice);
          expect(solved.best?.cost).toBe(fresh.best?.cost);
          if (solved.best) expect(pathCost(solved.lattice, solved.best.path)).toBe(solved.best.cost);
        }
        const all = withAllSums(solved);
        const fresh = solve(solved.lattice);
        expect(throughCosts(all.lattice, all.forward, all.backward)).toEqual(
          throughCosts(fresh.lattice, forwardSums(fresh.lattice), backwardSums(fresh.lattice)),
        );
      }),
      { numRuns: 400, seed: 99 },
    );
  });

  it('takes lattices of another shape as new', () => {
    const [a, b] = fc.sample(randomLattice, { numRuns: 2, seed: 3 }) as [Lattice, Lattice];
    expect(resolve(solve(a), b).best?.cost).toBe(solve(b).best?.cost);
  });
});

describe('bestPathThrough', () => {
  it('gives for every placement a path through it at its price', () => {
    fc.assert(
      fc.property(randomLattice, (lattice) => {
        const forward = forwardSums(lattice);
        const backward = backwardSums(lattice);
        const through = throughCosts(lattice, forward, backward);
        through.forEach((costs, t) => {
          costs.forEach((cost, h) => {
            const best = bestPathThrough(lattice, forward, backward, t, h);
            if (cost === infinite) {
              expect(best).toBeNull();
              return;
            }
            expect(best!.path[t]).toBe(h);
            expect(best!.cost).toBe(cost);
            expect(pathCost(lattice, best!.path)).toBe(cost);
          });
        });
      }),
      { numRuns: 400, seed: 12 },
    );
  });
});
