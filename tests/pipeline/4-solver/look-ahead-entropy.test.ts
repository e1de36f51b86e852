import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  choicesPerSlot,
  emptySolvedCache,
  pitchAt,
  reachedMemories,
  visitRoom,
  type Lattice,
} from '../../../src/pipeline/4-solver';
import { openPaths, randomLattice } from './random-lattice';

const entropy = (weights: readonly number[]): number => {
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return weights.reduce((sum, weight) => sum - (weight / total) * Math.log2(weight / total), 0);
};

/** What is left of a lattice from slot t on, in memory state g. */
const restOf = (lattice: Lattice, t: number, g: number): Lattice => ({
  ...lattice,
  slots: lattice.slots.slice(t),
  startMemory: g,
});

/** Bits of the first so many placements after the first one of some paths. */
function bitsOfFirst(paths: readonly { readonly path: number[]; readonly cost: number }[], count: number) {
  const weights = new Map<string, number>();
  for (const { path, cost } of paths) {
    const key = path.slice(1, 1 + count).join();
    weights.set(key, (weights.get(key) ?? 0) + Math.exp(-cost / 1000));
  }
  return entropy([...weights.values()]);
}

/**
 * Entropy of each slot given those before it, discounted, from state (g, h) of slot t on: by listing every way on. What slot k
 * adds is the entropy of the first k less that of the first k - 1 (chain rule).
 */
function listedBits(lattice: Lattice, t: number, g: number, h: number, discount: number): number | undefined {
  const paths = openPaths(restOf(lattice, t, g)).filter(({ path }) => path[0] === h);
  if (paths.length === 0) return undefined;
  let bits = 0;
  for (let k = 1; k < lattice.slots.length - t; k++)
    bits += discount ** (k - 1) * (bitsOfFirst(paths, k) - bitsOfFirst(paths, k - 1));
  return bits;
}

/** By slot and pitch: states that a path comes to, and those that any step leads to from there, as a note shown may be asked for. */
function statesAskedFor(lattice: Lattice): readonly (readonly ReadonlySet<number>[])[] {
  const { slots } = lattice;
  const asked = reachedMemories(lattice).map((rows) => rows.map((row) => new Set(row)));
  const reached = asked.map((rows) => rows.map((row) => [...row]));
  for (let t = 0; t + 1 < slots.length; t++) {
    const { pitches, rules, ruleOf } = slots[t]!;
    asked[t + 1]!.forEach((to, n) => {
      for (let b = 0; b < pitches.length; b++)
        for (const g of reached[t]![b]!) to.add(rules[ruleOf[b * asked[t + 1]!.length + n]!]!.next[g]!);
    });
  }
  return asked;
}

describe('visitRoom', () => {
  it('is the discounted entropy that listing every path finds, for every state that can be asked for', () => {
    fc.assert(
      fc.property(randomLattice, fc.integer({ min: 1, max: 8 }), (lattice, window) => {
        const seen: number[] = [];
        const asked = statesAskedFor(lattice);
        const discount = 1 - 1 / window;
        visitRoom(lattice, 1, 1000, window, (t, bits, weight) => {
          seen.push(t);
          const slotsAhead = lattice.slots.length - 1 - t;
          const weights = Array.from({ length: slotsAhead }, (_, k) => discount ** k);
          expect(weight).toBeCloseTo(
            weights.reduce((sum, one) => sum + one, 0),
            10,
          );
          const placements = lattice.slots[t]!.placements.length;
          for (let g = 0; g < lattice.memoryCount; g++) {
            for (let h = 0; h < placements; h++) {
              const expected = listedBits(lattice, t, g, h, discount);
              if (expected === undefined || !asked[t]![pitchAt(lattice.slots[t]!, h)]!.has(g)) continue;
              expect(bits[g * placements + h]).toBeCloseTo(expected, 8);
            }
          }
        });
        expect(seen.reverse()).toEqual([...lattice.slots.keys()]);
      }),
      { numRuns: 100, seed: 31 },
    );
  });

  it('tells how far it has come', () => {
    const told: number[] = [];
    const cache = emptySolvedCache();
    cache.watch = (pass, done) => {
      if (pass === 'look ahead') told.push(done);
    };
    const [lattice] = fc.sample(
      randomLattice.filter(({ slots }) => slots.length === 5),
      { numRuns: 1, seed: 1 },
    );
    visitRoom({ ...lattice!, cache }, 1, 1000, 8, () => undefined);
    expect(told).toEqual([0.25, 0.5, 0.75, 1]);
  });

  it('counts choices a slot as a perplexity', () => {
    expect(choicesPerSlot(8, 8)).toBe(2);
    expect(choicesPerSlot(0, 8)).toBe(1);
    expect(choicesPerSlot(0, 0)).toBe(1);
  });
});
