// The least path with shares, beside every path there is.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Vectors, wideMessages, widePath, type Lattice } from '../../../src/pipeline/4-solver';
import { valuesOf, type Before } from '../../../src/pipeline/lessons/exact-values';
import { leastWithShares, type Shares } from '../../../src/pipeline/lessons/shares';
import { openPaths, randomLattice } from '../4-solver/random-lattice';

const wish = fc.record({
  midis: fc.array(fc.integer({ min: -1, max: 5 }), { minLength: 8, maxLength: 8 }),
  places: fc.array(fc.array(fc.constantFrom(null, 0, 0, 1, 1, 2), { minLength: 40, maxLength: 40 }), {
    minLength: 8,
    maxLength: 8,
  }),
  lengths: fc.array(fc.integer({ min: 1, max: 2 }), { minLength: 8, maxLength: 8 }),
  share: fc.constantFrom(10, 20, 35, 50),
  knows: fc.boolean(),
});

/** Whether every region has its share of the stopped time, by adding up. */
function hasShares({ regionOf, lengths, regions, share }: Shares, path: readonly number[]): boolean {
  const times = new Array<number>(regions + 1).fill(0);
  lengths.forEach((length, t) => {
    const region = regionOf[t]![path[t]!]!;
    if (region !== null) times[region]! += length;
  });
  const stopped = times.reduce((sum, one) => sum + one, 0);
  return times.slice(0, regions).every((time) => 100 * time >= share * stopped);
}

const settingOf = (
  lattice: Lattice,
  {
    midis,
    places,
    lengths,
    share,
  }: { midis: number[]; places: (number | null)[][]; lengths: number[]; share: number },
): { readonly before: Before; readonly shares: Shares } => ({
  before: lattice.slots.map((_, t) =>
    midis[t]! < 0 ? null : { midi: midis[t]!, isHeldAlike: (placement) => placement % 2 === 0 },
  ),
  shares: {
    regionOf: lattice.slots.map((slot, t) => [...slot.placements.keys()].map((h) => places[t]![h]!)),
    lengths: lengths.slice(0, lattice.slots.length),
    regions: 2,
    share,
  },
});

describe('the least path with shares', () => {
  it('is the least of all paths that have them, or none where none has', () => {
    let compared = 0;
    let none = 0;
    fc.assert(
      fc.property(randomLattice, wish, (lattice, wishes) => {
        const { before, shares } = settingOf(lattice, wishes);
        const values = valuesOf(lattice, before);
        const good = openPaths(lattice).filter(({ path }) => hasShares(shares, path));
        const worths = good.map(({ path }) => values.worthOf(path));
        const known = wishes.knows && good[0] ? Int32Array.from(good[0].path) : null;
        const found = leastWithShares(lattice, values, shares, () => known);
        if (good.length === 0) {
          none++;
          expect(found).toBeNull();
          return;
        }
        compared++;
        expect(found!.over).toBe(0);
        expect(hasShares(shares, [...found!.path])).toBe(true);
        expect(values.worthOf(found!.path)).toBe(Math.min(...worths));
      }),
      { numRuns: 200 },
    );
    expect(compared).toBeGreaterThan(50);
    expect(none).toBeGreaterThan(10);
  });

  it.each([undefined, new Vectors()])(
    'rests on messages whose best path is the best of all (vectors: %j)',
    (vectors) => {
      fc.assert(
        fc.property(randomLattice, (drawn) => {
          const lattice = { ...drawn, vectors };
          const values = valuesOf(lattice, null);
          const made = wideMessages(lattice, values);
          const costs = openPaths(lattice).map(({ cost }) => cost);
          if (costs.length === 0) {
            expect(made.least).toBe(Infinity);
            return;
          }
          expect(made.least).toBe(Math.min(...costs) * values.unit);
          expect(values.worthOf(widePath(lattice, made))).toBe(made.least);
        }),
        { numRuns: 200 },
      );
    },
  );
});
