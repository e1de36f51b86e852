// What the recursions leave out, against the recursions as they are written down with nothing left out.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom, type Random } from '../../../src/music';
import {
  backwardSums,
  barrier,
  bestPath,
  clamp,
  emptyKept,
  forwardSums,
  infinite,
  makeSampler,
  pitchOfPlacement,
  pricesOf,
  type Lattice,
  type LatticeSlot,
} from '../../../src/pipeline/4-solver';
import { fewTurns } from './random-lattice';

const placementCount = 24;
const reach = 7;

/** Whole numbers from 0 to most. */
const upTo = (most: number, random: Random): number => Math.floor(random() * (most + 1));

/** A table of costs up to a height; some entries are infinite where `blocked` is above 0. */
const table = (length: number, most: number, random: Random, blocked = 0): Int32Array =>
  Int32Array.from({ length }, () => (random() < blocked ? infinite : upTo(most, random)));

/** What slots are cut from: every placement has one pitch. */
interface Stock {
  readonly pitchOf: readonly number[];
  readonly moves: readonly { readonly costs: Int32Array }[];
}

const makeStock = (random: Random): Stock => ({
  pitchOf: Array.from({ length: placementCount }, () => upTo(reach, random)),
  moves: [0, 0.1].map((blocked) => ({
    costs: table(placementCount ** 2, 900, random, blocked),
  })),
});

/** A slot with some of the placements of the stock. */
function makeSlot({ pitchOf, moves }: Stock, random: Random, share: number): LatticeSlot {
  const offered = pitchOf.flatMap((_, id) => (random() < share ? [id] : []));
  const own = offered.length > 0 ? offered : [upTo(placementCount - 1, random)];
  const pitches = [...new Set(own.map((id) => pitchOf[id]!))].sort((a, b) => a - b);
  const placements = pitches.flatMap((pitch) => own.filter((id) => pitchOf[id] === pitch));
  return {
    pitches: Int32Array.from(pitches),
    pitchCosts: table(pitches.length, 1500, random),
    placements: Int32Array.from(placements),
    placementCosts: table(placements.length, 800, random, 0.05),
    groupStart: Int32Array.from([...pitches, reach + 1], (pitch) =>
      placements.reduce((count, id) => count + (pitchOf[id]! < pitch ? 1 : 0), 0),
    ),
    stepCosts: new Int32Array(0),
    moves: moves[upTo(1, random)]!,
  };
}

/** Step costs by pitch and next pitch, the same for the same two: masks do not change them. */
function joined(slots: readonly LatticeSlot[], steps: Int32Array): LatticeSlot[] {
  return slots.map((slot, t) => ({
    ...slot,
    stepCosts: Int32Array.from(
      [...slot.pitches].flatMap((a) =>
        [...(slots[t + 1]?.pitches ?? [])].map((b) => steps[a * (reach + 1) + b]!),
      ),
    ),
  }));
}

/** Turns of few kinds or of any, that differ by far less than the ways to them do, and few costs, so that there are ties. */
function makeLattice(seed: number, length: number, turnHeight: number): Lattice {
  const random = seededRandom(seed);
  const stock = makeStock(random);
  const slots = Array.from({ length }, () => makeSlot(stock, random, 0.7));
  const turns =
    seed % 2 === 0
      ? fewTurns(reach, table(25, turnHeight, random), table(2 * reach + 1, turnHeight, random))
      : table((2 * reach + 1) ** 2, turnHeight, random);
  const turnCosts = turns.map((cost) => cost - (seed % 200));
  return { slots: joined(slots, table((reach + 1) ** 2, 3000, random)), placementCount, turnCosts, reach };
}

/** The slot without some of its placements. */
function masked(slot: LatticeSlot, random: Random): LatticeSlot {
  const costs = slot.placementCosts.map((cost) => (random() < 0.3 ? infinite : cost));
  return { ...slot, placementCosts: costs };
}

const pitches = new WeakMap<LatticeSlot, Int32Array>();

function pitchOf(slot: LatticeSlot): Int32Array {
  const found = pitches.get(slot) ?? pitchOfPlacement(slot);
  pitches.set(slot, found);
  return found;
}

const unaryOf = (slot: LatticeSlot, h: number): number =>
  slot.pitchCosts[pitchOf(slot)[h]!]! + slot.placementCosts[h]!;

/** What it costs to go on from (m, h) of slot t to placement `to`, without what `to` costs by itself. */
function stepCost({ slots, turnCosts }: Lattice, t: number, m: number, h: number, to: number): number {
  const [slot, next] = [slots[t]!, slots[t + 1]!];
  const [b, n] = [pitchOf(slot)[h]!, pitchOf(next)[to]!];
  const before = slots[t - 1]?.pitches[m];
  const first = slot.pitches[b]! - (before ?? 0) + reach;
  const second = next.pitches[n]! - slot.pitches[b]! + reach;
  return (
    (before === undefined ? 0 : turnCosts[first * (2 * reach + 1) + second]!) +
    slot.stepCosts[b * next.pitches.length + n]! +
    slot.moves.costs[slot.placements[h]! * placementCount + next.placements[to]!]!
  );
}

type Table = readonly (readonly number[])[];

/** All F_t and W_t, row m, column h, by the definition of a path's cost. */
function wholeSums(lattice: Lattice): { forward: Table[]; backward: Table[] } {
  const { slots } = lattice;
  const rowsAt = (t: number): number => slots[t - 1]?.pitches.length ?? 1;
  const grid = (t: number, entry: (m: number, h: number) => number): number[][] =>
    Array.from({ length: rowsAt(t) }, (_, m) =>
      Array.from(slots[t]!.placements, (_placement, h) => clamp(entry(m, h))),
    );
  const forward: Table[] = [grid(0, (_, h) => unaryOf(slots[0]!, h))];
  for (let t = 0; t + 1 < slots.length; t++) {
    const before = forward[t]!;
    const own = pitchOf(slots[t]!);
    forward.push(
      grid(t + 1, (b, to) => {
        const ways = before.flatMap((row, m) =>
          row.map((sum, h) => (own[h] === b ? sum + stepCost(lattice, t, m, h, to) : infinite)),
        );
        return Math.min(...ways) + unaryOf(slots[t + 1]!, to);
      }),
    );
  }
  const last = slots.length - 1;
  const backward: Table[] = [];
  backward[last] = grid(last, () => 0);
  for (let t = last - 1; t >= 0; t--) {
    const after = backward[t + 1]!;
    const own = pitchOf(slots[t]!);
    backward[t] = grid(t, (m, h) =>
      Math.min(
        ...after[own[h]!]!.map(
          (sum, to) => stepCost(lattice, t, m, h, to) + unaryOf(slots[t + 1]!, to) + sum,
        ),
      ),
    );
  }
  return { forward, backward };
}

/** A table less its least entry, row by row. */
function flat(whole: Table): number[] {
  const all = whole.flat();
  const least = Math.min(...all, barrier);
  return all.map((sum) => (sum >= barrier ? infinite : sum - least));
}

const instance = fc.record({
  seed: fc.nat({ max: 1_000_000 }),
  length: fc.integer({ min: 1, max: 6 }),
  turnHeight: fc.constantFrom(0, 40, 400, 2000),
});

describe('what the forward pass leaves out', () => {
  it('is just what a turn cannot make up for; all else is what the whole recursion gives', () => {
    let left = 0;
    fc.assert(
      fc.property(instance, ({ seed, length, turnHeight }) => {
        const lattice = makeLattice(seed, length, turnHeight);
        const { forward, backward } = wholeSums(lattice);
        const { turnCosts } = lattice;
        const spread = Math.max(...turnCosts) - Math.min(...turnCosts);
        const [sums, back] = [forwardSums(lattice), backwardSums(lattice)];
        forward.forEach((whole, t) => {
          const width = lattice.slots[t]!.placements.length;
          const expected = flat(whole);
          const kept = expected.map((sum, state) => {
            const column = expected.filter((_, other) => other % width === state % width);
            return sum <= Math.min(...column) + spread ? sum : infinite;
          });
          left += kept.filter((sum, state) => sum !== expected[state]).length;
          expect([...sums.at(t)]).toEqual(kept);
          expect([...back.at(length - 1 - t)]).toEqual(flat(backward[t]!));
        });
      }),
      { numRuns: 120, seed: 61 },
    );
    expect(left).toBeGreaterThan(1000);
  });

  it('changes neither the best path nor any price', () => {
    fc.assert(
      fc.property(instance, ({ seed, length, turnHeight }) => {
        const lattice = makeLattice(seed, length, turnHeight);
        const { forward, backward } = wholeSums(lattice);
        const through = forward.map((whole, t) =>
          Array.from(lattice.slots[t]!.placements, (_, h) =>
            clamp(Math.min(...whole.map((row, m) => row[h]! + backward[t]![m]![h]!))),
          ),
        );
        const optimum = Math.min(...through[0]!);
        const prices = pricesOf(lattice);
        if (optimum >= barrier) {
          expect(prices).toBeNull();
          return;
        }
        expect(bestPath(lattice)?.cost).toBe(optimum);
        through.forEach((costs, t) => {
          expect([...prices!.at(t)]).toEqual(
            costs.map((cost) => (cost >= barrier ? infinite : cost - optimum)),
          );
        });
      }),
      { numRuns: 120, seed: 62 },
    );
  });
});

/** Everything that solving gives. */
const answersTo = (lattice: Lattice) => ({
  best: bestPath(lattice),
  prices: lattice.slots.map((_, t) => pricesOf(lattice)?.at(t)),
  take: makeSampler(lattice, 1, 1000).draw(seededRandom(3)),
});

describe('masks on all slots at once', () => {
  it('laid on and taken off again give what solving from nothing gives', () => {
    fc.assert(
      fc.property(instance, fc.array(fc.nat(), { minLength: 1, maxLength: 6 }), (shape, maskSeeds) => {
        const wide = makeLattice(shape.seed, shape.length, shape.turnHeight);
        const kept = emptyKept();
        for (const maskSeed of maskSeeds) {
          const random = seededRandom(maskSeed);
          const slots = wide.slots.map((slot) => masked(slot, random));
          for (const lattice of [{ ...wide, slots }, wide])
            expect(answersTo({ ...lattice, kept })).toEqual(answersTo(lattice));
        }
      }),
      { numRuns: 60, seed: 63 },
    );
  });
});

describe('a form that comes round', () => {
  it('is solved as if none of its slots were the same, in fewer steps', () => {
    let computed = 0;
    let slotsSeen = 0;
    fc.assert(
      fc.property(fc.nat(), fc.integer({ min: 2, max: 6 }), (seed, length) => {
        const times = 12;
        const random = seededRandom(seed);
        const stock = makeStock(random);
        const turnCosts = table((2 * reach + 1) ** 2, 200, random);
        const once = Array.from({ length }, () => makeSlot(stock, random, 0.7));
        const steps = table((reach + 1) ** 2, 3000, random);
        // Cut from the middle of three passes, so that the last slot of a pass leads into the first.
        const pass = joined([...once, ...once, ...once], steps).slice(length, 2 * length);
        const form = Array.from({ length: times }, () => pass).flat();
        const lattice = { slots: form, placementCount, turnCosts, reach };
        const apart = { ...lattice, slots: form.map((slot) => ({ ...slot })) };
        expect(answersTo(lattice)).toEqual(answersTo(apart));
        const chain = forwardSums(lattice);
        expect(forwardSums(apart).computed).toBe(form.length);
        computed += chain.computed;
        slotsSeen += form.length;
      }),
      { numRuns: 25, seed: 64 },
    );
    expect(computed).toBeLessThan(slotsSeen / 2);
  });
});
