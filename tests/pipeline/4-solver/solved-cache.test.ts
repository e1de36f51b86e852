// Lattices solved after one another, each taking over what the ones before left, against solving each of them from nothing.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/music';
import {
  bestPath,
  emptySolvedCache,
  forwardMessages,
  infinite,
  makeSampler,
  minMarginals,
  type Lattice,
  type LatticeSlot,
  type SolvedCache,
  type StepRule,
} from '../../../src/pipeline/4-solver';
import { randomLattice, slotSeeds, withFewerRows } from './random-lattice';
import { joined, latticeOf, makeLattice, makeSlot, makeStock, masked } from './wide-lattice';

/** The lattice with one slot's placement costs changed, as a pin or a price would. */
function edited(lattice: Lattice, slotSeed: number, costs: readonly number[]): Lattice {
  const t = slotSeed % lattice.slots.length;
  const slots = lattice.slots.map((slot, index): LatticeSlot => {
    if (index !== t) return slot;
    return { ...slot, placementCosts: slot.placementCosts.map((_, h) => costs[h % costs.length]!) };
  });
  return { ...lattice, slots };
}

const edit = fc.tuple(
  fc.nat(),
  fc.array(fc.oneof(fc.integer({ min: -2000, max: 2000 }), fc.constant(infinite)), {
    minLength: 1,
    maxLength: 6,
  }),
);

/** Everything that solving a lattice gives. */
function answers(lattice: Lattice) {
  const prices = minMarginals(lattice);
  const random = seededRandom(4);
  return {
    best: bestPath(lattice),
    optimum: prices?.optimum,
    prices: prices && lattice.slots.map((_, t) => prices.at(t)),
    take: makeSampler(lattice, 0.9, 1000).draw(random),
  };
}

const withCache = (lattice: Lattice, cache: SolvedCache): Lattice => ({ ...lattice, cache });

describe('a lattice solved after another', () => {
  it('gives after each of many edits what solving it from nothing gives: path, prices and take', () => {
    fc.assert(
      fc.property(randomLattice, fc.array(edit, { minLength: 1, maxLength: 12 }), (first, edits) => {
        const cache = emptySolvedCache();
        let lattice = first;
        answers(withCache(lattice, cache));
        for (const [slotSeed, costs] of edits) {
          lattice = edited(lattice, slotSeed, costs);
          expect(answers(withCache(lattice, cache))).toEqual(answers(lattice));
        }
      }),
      { numRuns: 300, seed: 99 },
    );
  });

  it('of another shape is solved as a new one', () => {
    fc.assert(
      fc.property(fc.array(randomLattice, { minLength: 2, maxLength: 5 }), (lattices) => {
        const cache = emptySolvedCache();
        for (const lattice of lattices) expect(answers(withCache(lattice, cache))).toEqual(answers(lattice));
      }),
      { numRuns: 300, seed: 98 },
    );
  });
});

describe('a lattice with other rules', () => {
  it('takes nothing over that hung on the rules before', () => {
    fc.assert(
      fc.property(
        randomLattice,
        fc.nat(),
        fc.nat(),
        fc.integer({ min: 1, max: 4000 }),
        (first, t, k, more) => {
          const cache = emptySolvedCache();
          answers(withCache(first, cache));
          const slots = first.slots.map((slot, index): LatticeSlot => {
            if (index !== t % first.slots.length) return slot;
            const rules = slot.rules.map((rule, at): StepRule =>
              at === k % slot.rules.length
                ? { ...rule, costs: rule.costs.map((cost) => Math.min(cost + more, infinite)) }
                : rule,
            );
            return { ...slot, rules };
          });
          const other = { ...first, slots };
          expect(answers(withCache(other, cache))).toEqual(answers(other));
          const startMemory = (first.startMemory + 1) % first.memoryCount;
          const begunOtherwise = { ...first, startMemory };
          expect(answers(withCache(begunOtherwise, cache))).toEqual(answers(begunOtherwise));
        },
      ),
      { numRuns: 300, seed: 97 },
    );
  });
});

const instance = fc.record({
  seed: fc.nat({ max: 1_000_000 }),
  length: fc.integer({ min: 1, max: 6 }),
  ruleHeight: fc.constantFrom(0, 40, 400, 2000),
});

describe('masks on all slots at once', () => {
  it('laid on and taken off again give what solving from nothing gives', () => {
    fc.assert(
      fc.property(instance, fc.array(fc.nat(), { minLength: 1, maxLength: 6 }), (shape, maskSeeds) => {
        const wide = makeLattice(shape);
        const cache = emptySolvedCache();
        for (const maskSeed of maskSeeds) {
          const random = seededRandom(maskSeed);
          const slots = wide.slots.map((slot) => masked(slot, random));
          for (const lattice of [{ ...wide, slots }, wide])
            expect(answers(withCache(lattice, cache))).toEqual(answers(lattice));
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
        const times = 20;
        const random = seededRandom(seed);
        const stock = makeStock(random, 200);
        const once = Array.from({ length }, () => makeSlot(stock, random));
        // Cut from the middle of three passes, so that the last slot of a pass leads into the first.
        const pass = joined([...once, ...once, ...once], stock).slice(length, 2 * length);
        const form = Array.from({ length: times }, () => pass).flat();
        const lattice = latticeOf(form, stock);
        const apart = latticeOf(
          form.map((slot) => ({ ...slot })),
          stock,
        );
        expect(answers(lattice)).toEqual(answers(apart));
        const chain = forwardMessages(lattice);
        expect(forwardMessages(apart).computed).toBe(form.length);
        computed += chain.computed;
        slotsSeen += form.length;
      }),
      { numRuns: 25, seed: 64 },
    );
    expect(computed).toBeLessThan(slotsSeen / 2);
  });
});

/** Two pitches of two placements each and one memory state; any of them may follow on any. */
function slotOfLetter(seed: number): LatticeSlot {
  const random = seededRandom(seed);
  const costs = (length: number): Int32Array =>
    Int32Array.from({ length }, () => Math.floor(2000 * random()));
  return {
    pitches: Int32Array.of(40, 43),
    pitchCosts: costs(2),
    placements: Int32Array.of(0, 1, 2, 3),
    placementCosts: costs(4),
    groupStart: Int32Array.of(0, 2, 4),
    stepCosts: costs(4),
    rules: [{ next: Uint16Array.of(1, 0), costs: costs(2) }],
    ruleOf: new Uint16Array(4),
    moves: { costs: costs(16) },
  };
}

describe('parts that come again in any order', () => {
  it('are solved as if none of their slots were the same', () => {
    const stock = [1, 2, 3].map(slotOfLetter);
    const shape = { placementCount: 4, memoryCount: 2, startMemory: 0 };
    const order = fc.array(fc.nat({ max: 2 }), { minLength: 2, maxLength: 40 });
    fc.assert(
      fc.property(order, (letters) => {
        const slots = letters.map((letter) => stock[letter]!);
        const apart = slots.map((slot) => ({ ...slot }));
        expect(answers({ ...shape, slots })).toEqual(answers({ ...shape, slots: apart }));
      }),
      { numRuns: 200, seed: 65 },
    );
  });
});

describe('a slot that can be in fewer memory states', () => {
  it('is solved as one that steps to the others may not lead to', () => {
    fc.assert(
      fc.property(randomLattice, slotSeeds, (lattice, seeds) => {
        const { fewer, blocked } = withFewerRows(lattice, seeds);
        expect(answers(fewer)).toEqual(answers(blocked));
      }),
      { numRuns: 500, seed: 66 },
    );
  });
});
