import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/music';
import { barrier, makeSampler, pathCost, redraw } from '../../../src/pipeline/4-solver';
import { allPaths, randomLattice } from './random-lattice';

describe('redraw', () => {
  it('changes nothing outside the window and draws the inside as often as its conditional probability says', () => {
    fc.assert(
      fc.property(randomLattice, fc.nat(), fc.nat(), fc.integer(), (lattice, a, b, seed) => {
        const random = seededRandom(seed);
        const path = makeSampler(lattice, 1, 1000).draw(random);
        fc.pre(path !== null);
        const count = lattice.slots.length;
        const from = Math.min(a % count, b % count);
        const to = Math.max(a % count, b % count);
        const isOutsideKept = (other: ArrayLike<number>): boolean =>
          path!.every((h, t) => (t >= from && t <= to) || other[t] === h);
        const weights = new Map(
          allPaths(lattice)
            .filter(isOutsideKept)
            .map((one) => [one.join(), pathCost(lattice, one)] as const)
            .filter(([, cost]) => cost < barrier)
            .map(([key, cost]) => [key, Math.exp(-cost / 1000)]),
        );
        const total = [...weights.values()].reduce((sum, weight) => sum + weight, 0);
        const draws = 600;
        const counts = new Map<string, number>();
        for (let k = 0; k < draws; k++) {
          const drawn = redraw(lattice, path!, from, to, 1, 1000, random)!;
          expect(isOutsideKept(drawn)).toBe(true);
          counts.set(drawn.join(), (counts.get(drawn.join()) ?? 0) + 1);
        }
        let chiSquare = 0;
        let cells = 0;
        for (const [key, weight] of weights) {
          const expected = (weight / total) * draws;
          if (expected < 5) continue;
          chiSquare += ((counts.get(key) ?? 0) - expected) ** 2 / expected;
          cells++;
        }
        expect(chiSquare).toBeLessThan(cells + 5.5 * Math.sqrt(2 * cells) + 12);
      }),
      { numRuns: 40, seed: 21 },
    );
  });
});
