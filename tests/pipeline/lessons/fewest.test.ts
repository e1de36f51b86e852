// One change at a time, beside every path there is.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { barrier, pathCost, pitchAt, type Lattice, type Path } from '../../../src/pipeline/4-solver';
import type { Before } from '../../../src/pipeline/lessons/exact-values';
import { fewestChanges } from '../../../src/pipeline/lessons/fewest';
import { openPaths, randomLattice } from '../4-solver/random-lattice';

/** What is compared, first to last: notes changed, cost, fingers changed. */
type Score = readonly [number, number, number];

function scoreOf(lattice: Lattice, path: Path, before: Before): Score {
  let changed = 0;
  let fingers = 0;
  before.forEach((note, t) => {
    const slot = lattice.slots[t]!;
    if (note?.midi !== slot.pitches[pitchAt(slot, path[t]!)]) changed++;
    if (note && !note.isHeldAlike(path[t]!)) fingers++;
  });
  return [changed, pathCost(lattice, path), fingers];
}

const isLess = (a: Score, b: Score): boolean => {
  const at = a.findIndex((one, index) => one !== b[index]);
  return at >= 0 && a[at]! < b[at]!;
};

const times = (costs: Int32Array, by: number): Int32Array =>
  costs.map((cost) => (cost >= barrier ? cost : Math.trunc(cost * by)));

/** The same lattice with costs many times as large, or so small that many paths cost the same. */
const scaled = (lattice: Lattice, by: number): Lattice => ({
  ...lattice,
  slots: lattice.slots.map((slot) => ({
    ...slot,
    pitchCosts: times(slot.pitchCosts, by),
    placementCosts: times(slot.placementCosts, by),
    stepCosts: times(slot.stepCosts, by),
    rules: slot.rules.map(({ next, costs }) => ({ next, costs: times(costs, by) })),
    moves: { costs: times(slot.moves.costs, by) },
  })),
});

const wish = fc.array(fc.record({ midi: fc.integer({ min: -1, max: 5 }), held: fc.nat({ max: 5 }) }), {
  minLength: 5,
  maxLength: 5,
});

describe('one change at a time', () => {
  it.each([
    ['as they are', 1],
    ['large', 80],
    ['so small that many paths cost the same', 1 / 2000],
  ])('is the least of all paths, costs %s', (_, by) => {
    let compared = 0;
    fc.assert(
      fc.property(randomLattice, wish, (drawn, wishes) => {
        const lattice = scaled(drawn, by);
        const before: Before = lattice.slots.map((_slot, t) => {
          const { midi, held } = wishes[t]!;
          return midi < 0 ? null : { midi, isHeldAlike: (placement) => placement === held };
        });
        const scores = openPaths(lattice).map(({ path }) => scoreOf(lattice, Int32Array.from(path), before));
        const least = scores.reduce<Score | null>((a, b) => (a && !isLess(b, a) ? a : b), null);
        const found = fewestChanges(lattice, before);
        if (!least) {
          expect(found).toBeNull();
          return;
        }
        compared++;
        expect(scoreOf(lattice, found!.path, before)).toEqual(least);
        expect([found!.changed, found!.cost]).toEqual(least.slice(0, 2));
      }),
      { numRuns: 150 },
    );
    expect(compared).toBeGreaterThan(50);
  });
});
