// Filtered weights against sums over every path, on small lattices.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  emptySolvedCache,
  infinite,
  memoriesOf,
  Weights,
  type Lattice,
} from '../../../src/pipeline/4-solver';
import { filteredWeights } from '../../../src/pipeline/4-solver/filtering';
import { plainLattice, plainSlot, tenSlots } from './plain-slots';
import { openPaths, randomLattice } from './random-lattice';

const temperature = 1.7;
const unit = 1000;
const weights = (): Weights => new Weights(temperature, unit);

/** The weight of all ways into each state of slot t, the largest of them 1. */
function listed(lattice: Lattice, t: number): number[] {
  const part = { ...lattice, slots: lattice.slots.slice(0, t + 1) };
  const width = lattice.slots[t]!.placements.length;
  const sums = new Array<number>(lattice.memoryCount * width).fill(0);
  for (const { path, cost } of openPaths(part)) {
    const state = memoriesOf(part, path)[t]! * width + path[t]!;
    sums[state]! += Math.exp(-cost / unit / temperature);
  }
  const largest = Math.max(...sums);
  return sums.map((sum) => (largest === 0 ? 0 : sum / largest));
}

/** Bits of a number from its first to its last that is 1. */
function bitsOf(value: number): number {
  if (value === 0) return 0;
  let mantissa = value / 2 ** Math.floor(Math.log2(value));
  let bits = 1;
  for (; mantissa % 1 !== 0; bits++) mantissa = (mantissa % 1) * 2;
  return bits;
}

describe('filtered weights', () => {
  it('are the sums over all ways into a state, in 26 bits, with 1 as their largest', () => {
    fc.assert(
      fc.property(randomLattice, (lattice) => {
        const chain = filteredWeights(lattice, weights());
        lattice.slots.forEach((_, t) => {
          const filtered = [...chain.at(t)];
          const expected = listed(lattice, t);
          expect(filtered).toHaveLength(expected.length);
          expected.forEach((sum, state) => {
            // What is under 1e-290 may be lost on the way.
            if (sum > 1e-280) expect(filtered[state]! / sum).toBeCloseTo(1, 6);
            else expect(filtered[state]).toBeLessThan(1e-270);
          });
          if (t === 0) return;
          const isOpen = expected.some((sum) => sum > 0);
          expect(Math.max(...filtered)).toBe(isOpen ? 1 : 0);
          for (const value of filtered) expect(bitsOf(value)).toBeLessThanOrEqual(26);
        });
      }),
      { numRuns: 500, seed: 51 },
    );
  });

  it('are all 0 from where no way leads on', () => {
    const chain = filteredWeights(plainLattice([0, infinite, 0].map(plainSlot)), weights());
    expect([0, 1, 2].map((t) => [...chain.at(t)])).toEqual([[1], [0], [0]]);
  });

  it('are taken over from where an edit is no longer felt, and told as they are made', () => {
    const cache = emptySolvedCache();
    const told: number[] = [];
    cache.watch = (pass, done) => {
      if (pass === 'filter') told.push(done);
    };
    const { before, edited } = tenSlots();
    const used = weights();
    filteredWeights(plainLattice(before, cache), used);
    expect(told).toEqual(Array.from({ length: 10 }, (_, t) => (t + 1) / 10));
    expect(cache.filtered.lattices).toHaveLength(1);
    const chain = filteredWeights(plainLattice(edited, cache), used);
    // The slot itself, the one after it, which is the same again, and one that may look back at it.
    expect(chain.computed).toBe(3);
    expect([...chain.at(9)]).toEqual([1]);
    expect(cache.filtered.last?.chain).toBe(chain);
  });
});
