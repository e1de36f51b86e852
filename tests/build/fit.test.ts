// What the fit expects of its model, against listing every path of small lattices.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { visitSteps } from '../../src/build/fit/marginals';
import { memoriesOf, pitchOfPlacement } from '../../src/pipeline/4-solver';
import { openPaths, randomLattice } from '../pipeline/4-solver/random-lattice';

describe('visitSteps', () => {
  it('tells the probability of every step with the memory before it', () => {
    fc.assert(
      fc.property(randomLattice, fc.constantFrom(0.7, 1, 2), (lattice, temperature) => {
        const paths = openPaths(lattice);
        fc.pre(paths.length > 0);
        const least = Math.min(...paths.map(({ cost }) => cost));
        const weightOf = (cost: number): number => Math.exp(-(cost - least) / 1000 / temperature);
        const total = paths.reduce((sum, { cost }) => sum + weightOf(cost), 0);
        const pitchOf = lattice.slots.map(pitchOfPlacement);
        const expected = new Map<string, number>();
        for (const { path, cost } of paths) {
          const memory = memoriesOf(lattice, path);
          for (let t = 0; t + 1 < path.length; t++) {
            const key = [t, memory[t], pitchOf[t]![path[t]!], pitchOf[t + 1]![path[t + 1]!]].join();
            expected.set(key, (expected.get(key) ?? 0) + weightOf(cost) / total);
          }
        }
        const seen = new Map<string, number>();
        const slots: number[] = [];
        visitSteps(lattice, temperature, (t, g, b, n, probability) => {
          const key = [t, g, b, n].join();
          expect(seen.has(key)).toBe(false);
          seen.set(key, probability);
          if (slots.at(-1) !== t) slots.push(t);
        });
        for (const [key, probability] of expected) expect(seen.get(key) ?? 0).toBeCloseTo(probability, 6);
        for (const [key, probability] of seen) if (!expected.has(key)) expect(probability).toBeLessThan(1e-6);
        // The last slots first.
        expect(slots).toEqual(lattice.slots.slice(1).map((_, k) => lattice.slots.length - 2 - k));
      }),
      { numRuns: 300, seed: 81 },
    );
  });
});
