// The loops in vectors against the recursions in plain numbers, which stand against brute force, a linear program and a graph
// library elsewhere.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assembled, keptBytes } from '../../../src/build/kernel.mjs';
import { seededRandom } from '../../../src/music';
import {
  backwardMessages,
  barrier,
  forwardMessages,
  moveIndex,
  Vectors,
  visitRoom,
  Weights,
  wideMessages,
  type Lattice,
  type MoveTable,
} from '../../../src/pipeline/4-solver';
import { filteredWeights } from '../../../src/pipeline/4-solver/filtering';
import { Arena } from '../../../src/pipeline/4-solver/kernel/arena';
import { Kernel } from '../../../src/pipeline/4-solver/kernel/kernel';
import { realLattice } from '../../checks/real-lattice';
import { randomLattice } from './random-lattice';

/** Costs to a natural unit. */
const unit = 1000;

type Messages = readonly (Int32Array | Float64Array)[];

const everyOne = ({ slots }: Lattice, chain: { at(t: number): Int32Array | Float64Array }): Messages =>
  slots.map((_, t) => chain.at(t));

/** What placements are worth by themselves: their costs, and much for every third. */
const wideCosts = (lattice: Lattice): Parameters<typeof wideMessages>[1] => ({
  unary: lattice.slots.map(({ placementCosts }) =>
    Float64Array.from(placementCosts, (cost, h) =>
      cost >= barrier ? Infinity : unit * cost + (h % 3 === 0 ? 2 ** 40 : 0),
    ),
  ),
  unit,
});

const passes: Readonly<Record<string, (lattice: Lattice) => Messages>> = {
  forward: (lattice) => everyOne(lattice, forwardMessages(lattice, 1)),
  backward: (lattice) => everyOne(lattice, backwardMessages(lattice, 1)),
  filtered: (lattice) => everyOne(lattice, filteredWeights(lattice, new Weights(1, unit), 1)),
  wide: (lattice) => wideMessages(lattice, wideCosts(lattice)).on,
};

function expectAlike(lattice: Lattice, vectors: Vectors): void {
  expect(vectors.kernel).not.toBeNull();
  for (const pass of Object.values(passes)) {
    const plain = pass(alone(lattice));
    const inVectors = pass({ ...alone(lattice), vectors });
    expect(plain.map((message, t) => whereDifferent(message, inVectors[t]!))).toEqual(plain.map(() => -1));
  }
  const plain = roomOf(alone(lattice));
  roomOf({ ...alone(lattice), vectors }).forEach((entropies, place) =>
    entropies.forEach((bits, state) => {
      if (!(Math.abs(bits - plain[place]![state]!) < 1e-9))
        throw new Error(
          `${bits} for ${plain[place]![state]!} bits, state ${state}, slot ${place} from behind`,
        );
    }),
  );
}

/** Sums of many weights, in another order: alike to rounding. */
function roomOf(lattice: Lattice): Messages {
  const seen: Float64Array[] = [];
  visitRoom(lattice, 1, unit, 8, (_t, bits) => seen.push(bits));
  return seen;
}

/** The first entry in which two messages differ; -1 where none does. */
function whereDifferent(a: Int32Array | Float64Array, b: Int32Array | Float64Array): number {
  if (a.length !== b.length) return Math.min(a.length, b.length);
  return a.findIndex((value, state) => !Object.is(value, b[state]));
}

/** With nothing known from before, in plain numbers. */
const alone = ({ slots, placementCount, memoryCount, startMemory }: Lattice): Lattice => ({
  slots,
  placementCount,
  memoryCount,
  startMemory,
});

describe('Kernel', () => {
  it('gives the messages of the plain recursions to the bit, one lattice after another of any size', () => {
    const vectors = new Vectors();
    fc.assert(
      fc.property(randomLattice, (lattice) => {
        expectAlike(lattice, vectors);
      }),
      { numRuns: 300 },
    );
  });

  it('gives them over a tune, with steps and rules that may not be taken', () => {
    expectAlike(realLattice('back-stairs-blues.txt').lattice, new Vectors());
    expectAlike(realLattice('back-stairs-blues.txt', false).lattice, new Vectors());
  });

  it.each([
    ['low', 3],
    ['any', 2],
  ] as const)('gives them where the stay in %s is counted, up to %d beats', (region, beats) => {
    const { lattice } = realLattice('back-stairs-blues.txt', true, { region, beats });
    const { counted } = lattice.slots[0]!.moves;
    expect(new Set(counted!.count)).toEqual(new Set(Array.from({ length: beats + 1 }, (_, count) => count)));
    expectAlike(lattice, new Vectors());
  });

  it('gives them where the stay is counted in some bars alone', () => {
    const during = { bars: [0, 1, 5], of: 12 };
    const { lattice } = realLattice('back-stairs-blues.txt', true, { region: 'any', beats: 2, during });
    const counts = lattice.slots.map(({ placements, moves }) =>
      Math.max(...Array.from(placements, (one) => moves.counted!.count[one]!)),
    );
    expect([counts.includes(0), counts.includes(2)]).toEqual([true, true]);
    expectAlike(lattice, new Vectors());
  });

  it('gives what a table of every move by itself gives where the stay is counted', () => {
    const { lattice } = realLattice('back-stairs-blues.txt', true, { region: 'any', beats: 3 });
    const { placementCount } = lattice;
    const whole = new Map<MoveTable, MoveTable>();
    const laidOut = (moves: MoveTable): MoveTable => ({
      costs: Int32Array.from({ length: placementCount ** 2 }, (_, index) => {
        const [from, to] = [Math.floor(index / placementCount), index % placementCount];
        return moves.costs[moveIndex(moves, placementCount, from, to)]!;
      }),
    });
    for (const { moves } of lattice.slots) if (!whole.has(moves)) whole.set(moves, laidOut(moves));
    const slots = lattice.slots.map((slot) => ({ ...slot, moves: whole.get(slot.moves)! }));
    const [by, without] = [lattice, { ...lattice, slots }].map((one) =>
      forwardMessages({ ...alone(one), vectors: new Vectors() }, 1).at(slots.length - 1),
    ) as [Int32Array, Int32Array];
    expect(whereDifferent(by, without)).toBe(-1);
  });

  it('gives them where fewer memory states are open in some slots than in others', () => {
    const random = seededRandom(3);
    const { lattice } = realLattice('back-stairs-blues.txt');
    const slots = lattice.slots.map((slot) => ({
      ...slot,
      memoryRows: Math.max(1, Math.floor((slot.memoryRows ?? lattice.memoryCount) * (0.5 + random() / 2))),
    }));
    expectAlike({ ...lattice, slots }, new Vectors());
  });

  it('gives them when it forgets at every step what steps share', () => {
    const kernel = Kernel.make(0)!;
    const { lattice } = realLattice('back-stairs-blues.txt');
    const plain = forwardMessages(alone(lattice), 1);
    for (let t = 0; t + 1 < 12; t++)
      expect(whereDifferent(kernel.forward(lattice, t, plain.at(t)), plain.at(t + 1))).toBe(-1);
  });

  it('leaves it to the plain recursions where it may not run', () => {
    expect(Arena.make(Uint8Array.of(0, 1, 2, 3))).toBeNull();
    const vectors = new Vectors();
    Object.defineProperty(vectors, 'kernel', { value: null });
    const { lattice } = realLattice('back-stairs-blues.txt');
    const [plain, refused] = [undefined, vectors].map((one) =>
      forwardMessages({ ...alone(lattice), vectors: one }, 1).at(lattice.slots.length - 1),
    ) as [Int32Array, Int32Array];
    expect(whereDifferent(plain, refused)).toBe(-1);
  });
});

describe('relax-bytes.ts', () => {
  it('is what relax.wat is assembled into', async () => {
    expect(await assembled()).toBe(keptBytes());
  });
});
