// The best path that is not one of the forbidden, against listing every path.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/music';
import {
  bestOtherwise,
  bestPath,
  makeSampler,
  pathCost,
  pitchOfPlacement,
  type Lattice,
  type Path,
} from '../../../src/pipeline/4-solver';
import { openPaths, randomLattice } from './random-lattice';

/** Pitches of slots `from` to `to`. */
const pitchesOf = ({ slots }: Lattice, path: ArrayLike<number>, from: number, to: number): number[] =>
  slots.slice(from, to + 1).map((slot, k) => slot.pitches[pitchOfPlacement(slot)[path[from + k]!]!]!);

interface Case {
  readonly lattice: Lattice;
  readonly path: Path;
  readonly from: number;
  readonly to: number;
  /** Numbers by which figures are forbidden. */
  readonly forbidden: readonly boolean[];
}

/** Windows of up to three slots: at most 27 figures. */
const instance = fc
  .record({
    lattice: randomLattice,
    start: fc.nat(),
    length: fc.integer({ min: 1, max: 3 }),
    seed: fc.integer(),
    isBest: fc.boolean(),
    forbidden: fc.array(fc.boolean(), { minLength: 1, maxLength: 7 }),
  })
  .map(({ lattice, start, length, seed, isBest, forbidden }): Case | null => {
    const path = isBest ? bestPath(lattice)?.path : makeSampler(lattice, 2, 1000).draw(seededRandom(seed));
    const from = start % lattice.slots.length;
    const to = Math.min(from + length, lattice.slots.length) - 1;
    return path ? { lattice, path, from, to, forbidden } : null;
  })
  .filter((one) => one !== null);

describe('bestOtherwise', () => {
  it('is the cheapest path with another figure in the window and all else as it is; none where none is left', () => {
    let none = 0;
    let moved = 0;
    fc.assert(
      fc.property(instance, ({ lattice, path, from, to, forbidden }) => {
        const isForbidden = (pitches: readonly number[]): boolean =>
          forbidden[pitches.reduce((sum, pitch) => 3 * sum + pitch, 0) % forbidden.length]!;
        const costs = openPaths(lattice)
          .filter((other) => other.path.every((h, t) => (t >= from && t <= to) || h === path[t]))
          .filter((other) => !isForbidden(pitchesOf(lattice, other.path, from, to)))
          .map(({ cost }) => cost);
        const found = bestOtherwise(lattice, path, from, to, isForbidden);
        if (costs.length === 0) {
          none++;
          expect(found).toBeNull();
          return;
        }
        expect(pathCost(lattice, found!)).toBe(Math.min(...costs));
        expect(isForbidden(pitchesOf(lattice, found!, from, to))).toBe(false);
        path.forEach((h, t) => {
          if (t < from || t > to) expect(found![t]).toBe(h);
        });
        if (isForbidden(pitchesOf(lattice, path, from, to))) moved++;
      }),
      { numRuns: 1500, seed: 71 },
    );
    expect(none).toBeGreaterThan(50);
    expect(moved).toBeGreaterThan(200);
  });

  it('looks at every figure once, and gives up after 64 of them', () => {
    const lookedAt = (lattice: Lattice, path: Path): string[] => {
      const looked: string[] = [];
      const found = bestOtherwise(lattice, path, 0, lattice.slots.length - 1, (pitches) => {
        looked.push(pitches.join());
        return true;
      });
      expect(found).toBeNull();
      return looked;
    };
    fc.assert(
      fc.property(instance, ({ lattice, path }) => {
        const figures = new Set(
          openPaths(lattice).map((one) => pitchesOf(lattice, one.path, 0, lattice.slots.length - 1).join()),
        );
        const looked = lookedAt(lattice, path);
        expect(new Set(looked).size).toBe(looked.length);
        expect(looked.length).toBe(Math.min(64, figures.size));
      }),
      { numRuns: 200, seed: 72 },
    );
    const slot = {
      pitches: Int32Array.of(40, 41, 42),
      pitchCosts: Int32Array.of(0, 1, 2),
      placements: Int32Array.of(0, 0, 0),
      placementCosts: new Int32Array(3),
      groupStart: Int32Array.of(0, 1, 2, 3),
      stepCosts: new Int32Array(9),
      rules: [{ next: Uint16Array.of(0), costs: new Int32Array(1) }],
      ruleOf: new Uint16Array(9),
      moves: { costs: new Int32Array(1) },
    };
    const wide: Lattice = {
      slots: [slot, slot, slot, slot],
      placementCount: 1,
      memoryCount: 1,
      startMemory: 0,
    };
    expect(lookedAt(wide, Int32Array.of(0, 0, 0, 0))).toHaveLength(64);
  });
});
