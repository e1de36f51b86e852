import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  barrier,
  choicesPerSlot,
  pathCost,
  pitchOfPlacement,
  visitRoom,
  type Lattice,
} from '../../../src/pipeline/4-solver';
import { allPaths, randomLattice } from './random-lattice';

/** Entropy in bits of the placements at slots t+1..t+window, given the pitch at t-1 and the placement at t, by listing paths. */
function listedBits(lattice: Lattice, t: number, m: number, h: number, window: number): number | undefined {
  const weights = new Map<string, number>();
  let total = 0;
  for (const path of allPaths(lattice)) {
    if (path[t] !== h) continue;
    if (t > 0 && pitchOfPlacement(lattice.slots[t - 1]!)[path[t - 1]!] !== m) continue;
    const cost = pathCost(lattice, path);
    if (cost >= barrier) continue;
    const weight = Math.exp(-cost / 1000);
    const key = path.slice(t + 1, t + 1 + window).join();
    weights.set(key, (weights.get(key) ?? 0) + weight);
    total += weight;
  }
  if (total === 0) return undefined;
  return [...weights.values()].reduce((sum, weight) => sum - (weight / total) * Math.log2(weight / total), 0);
}

describe('visitRoom', () => {
  it('is the entropy that listing every path finds, for every state', () => {
    fc.assert(
      fc.property(randomLattice, fc.integer({ min: 1, max: 3 }), (lattice, window) => {
        const seen: number[] = [];
        visitRoom(lattice, 1, 1000, window, (t, bits, slots) => {
          seen.push(t);
          expect(slots).toBe(Math.min(window, lattice.slots.length - 1 - t));
          const placements = lattice.slots[t]!.placements.length;
          const rows = t === 0 ? 1 : lattice.slots[t - 1]!.pitches.length;
          for (let m = 0; m < rows; m++) {
            for (let h = 0; h < placements; h++) {
              const expected = listedBits(lattice, t, m, h, window);
              if (expected === undefined) continue;
              expect(bits[m * placements + h]).toBeCloseTo(expected, 8);
            }
          }
        });
        expect(seen.reverse()).toEqual([...lattice.slots.keys()]);
      }),
      { numRuns: 150, seed: 31 },
    );
  });

  it('counts choices a slot as a perplexity', () => {
    expect(choicesPerSlot(8, 8)).toBe(2);
    expect(choicesPerSlot(0, 8)).toBe(1);
    expect(choicesPerSlot(0, 0)).toBe(1);
  });
});
