// The loops in vectors against the recursions in plain numbers, which stand against brute force, a linear program and a graph
// library elsewhere.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assembled, keptBytes } from '../../../src/build/kernel.mjs';
import { seededRandom } from '../../../src/music';
import {
  backwardMessages,
  emptySolvedCache,
  forwardMessages,
  Weights,
  type Lattice,
  type SolvedCache,
} from '../../../src/pipeline/4-solver';
import type { Chain } from '../../../src/pipeline/4-solver/checkpointing';
import { filteredWeights } from '../../../src/pipeline/4-solver/filtering';
import { Arena } from '../../../src/pipeline/4-solver/kernel/arena';
import { Kernel } from '../../../src/pipeline/4-solver/kernel/kernel';
import { realLattice } from '../../checks/real-lattice';
import { randomLattice } from './random-lattice';

/** Costs to a natural unit. */
const unit = 1000;

type Pass = (lattice: Lattice) => Chain<Int32Array> | Chain<Float64Array>;
const passes: Readonly<Record<string, Pass>> = {
  forward: (lattice) => forwardMessages(lattice, 1),
  backward: (lattice) => backwardMessages(lattice, 1),
  filtered: (lattice) => filteredWeights(lattice, new Weights(1, unit), 1),
};

const messagesOf = (lattice: Lattice, pass: Pass): (Int32Array | Float64Array)[] => {
  const chain = pass(lattice);
  return lattice.slots.map((_, t) => chain.at(t));
};

function expectAlike(lattice: Lattice, cache: SolvedCache): void {
  expect(cache.kernel).not.toBeNull();
  for (const pass of Object.values(passes)) {
    const plain = messagesOf({ slots: lattice.slots, ...sizes(lattice) }, pass);
    const inVectors = messagesOf({ ...lattice, cache }, pass);
    expect(plain.map((message, t) => whereDifferent(message, inVectors[t]!))).toEqual(plain.map(() => -1));
  }
}

/** The first entry in which two messages differ; -1 where none does. */
function whereDifferent(a: Int32Array | Float64Array, b: Int32Array | Float64Array): number {
  if (a.length !== b.length) return Math.min(a.length, b.length);
  return a.findIndex((value, state) => !Object.is(value, b[state]));
}

const sizes = ({ placementCount, memoryCount, startMemory }: Lattice): Omit<Lattice, 'slots' | 'cache'> => ({
  placementCount,
  memoryCount,
  startMemory,
});

/** A cache that forgets chains, so that every pass is run, and keeps its kernel. */
function forgetful(): SolvedCache {
  const cache = emptySolvedCache();
  for (const recent of [cache.forward, cache.backward, cache.filtered]) recent.add = () => undefined;
  return cache;
}

describe('Kernel', () => {
  it('gives the messages of the plain recursions to the bit, one lattice after another of any size', () => {
    const cache = forgetful();
    fc.assert(
      fc.property(randomLattice, (lattice) => {
        expectAlike(lattice, cache);
      }),
      { numRuns: 300 },
    );
  });

  it('gives them over a tune, with steps and rules that may not be taken', () => {
    expectAlike(realLattice('back-stairs-blues.txt').lattice, forgetful());
    expectAlike(realLattice('back-stairs-blues.txt', false).lattice, forgetful());
  });

  it('gives them where fewer memory states are open in some slots than in others', () => {
    const random = seededRandom(3);
    const { lattice } = realLattice('back-stairs-blues.txt');
    const slots = lattice.slots.map((slot) => ({
      ...slot,
      memoryRows: Math.max(1, Math.floor((slot.memoryRows ?? lattice.memoryCount) * (0.5 + random() / 2))),
    }));
    expectAlike({ ...lattice, slots }, forgetful());
  });

  it('gives them when it forgets at every step what steps share', () => {
    const kernel = Kernel.make(0)!;
    const { lattice } = realLattice('back-stairs-blues.txt');
    const plain = forwardMessages({ slots: lattice.slots, ...sizes(lattice) }, 1);
    for (let t = 0; t + 1 < 12; t++)
      expect(whereDifferent(kernel.forward(lattice, t, plain.at(t)), plain.at(t + 1))).toBe(-1);
  });

  it('leaves it to the plain recursions where it may not run', () => {
    expect(Arena.make(Uint8Array.of(0, 1, 2, 3))).toBeNull();
    const cache = forgetful();
    Object.defineProperty(cache, 'kernel', { value: null });
    const { lattice } = realLattice('back-stairs-blues.txt');
    const last = messagesOf({ ...lattice, cache }, passes.forward!).at(-1)!;
    expect(
      whereDifferent(last, messagesOf({ slots: lattice.slots, ...sizes(lattice) }, passes.forward!).at(-1)!),
    ).toBe(-1);
  });
});

describe('relax-bytes.ts', () => {
  it('is what relax.wat is assembled into', async () => {
    expect(await assembled()).toBe(keptBytes());
  });
});
