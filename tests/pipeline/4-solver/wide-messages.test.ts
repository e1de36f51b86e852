// Messages in wide numbers against listing every path, on small lattices.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  barrier,
  memoriesOf,
  pathCost,
  pitchAt,
  reachedMemories,
  wideMessages,
  widePath,
  type Lattice,
  type WideCosts,
} from '../../../src/pipeline/4-solver';
import { allPaths, randomLattice, slotSeeds, withFewerRows } from './random-lattice';

/** The same slots, which cost nothing by themselves. */
const stepsAlone = (lattice: Lattice): Lattice => ({
  ...lattice,
  slots: lattice.slots.map((slot) => ({
    ...slot,
    pitchCosts: new Int32Array(slot.pitchCosts.length),
    placementCosts: new Int32Array(slot.placementCosts.length),
  })),
});

/** What a path is worth from slot `from` on, that slot aside; Infinity where it is blocked. */
function worthAfter(
  lattice: Lattice,
  { unary, unit }: WideCosts,
  path: readonly number[],
  from = -1,
): number {
  const cost = pathCost(lattice, path);
  if (cost >= barrier) return Infinity;
  const own = path.reduce((sum, h, t) => (t > from ? sum + unary[t]![h]! : sum), 0);
  return own + unit * cost;
}

/** What is left of a lattice from slot t on, begun in memory state g. */
const restOf = (lattice: Lattice, t: number, g: number): Lattice => ({
  ...lattice,
  slots: lattice.slots.slice(t),
  startMemory: g,
});

const wish = fc.oneof(
  { weight: 9, arbitrary: fc.integer({ min: -3, max: 40 }).map((count) => count * 2 ** 31) },
  { weight: 1, arbitrary: fc.constant(Infinity) },
);
const instance = fc.record({
  lattice: randomLattice.map(stepsAlone),
  wishes: fc.array(wish, { minLength: 7, maxLength: 23 }),
  unit: fc.constantFrom(1, 3, 1000),
});

function costsOf(lattice: Lattice, wishes: readonly number[], unit: number): WideCosts {
  let place = 0;
  const unary = lattice.slots.map(({ placements }) =>
    Float64Array.from(placements, () => wishes[place++ % wishes.length]!),
  );
  return { unary, unit };
}

describe('wide messages', () => {
  it('are the least that is left after every state, and the least of all paths', () => {
    fc.assert(
      fc.property(instance, ({ lattice, wishes, unit }) => {
        const costs = costsOf(lattice, wishes, unit);
        const { on, least } = wideMessages(lattice, costs);
        expect(least).toBe(Math.min(...allPaths(lattice).map((path) => worthAfter(lattice, costs, path))));
        const reached = reachedMemories(lattice);
        lattice.slots.forEach((slot, t) => {
          const later = { ...costs, unary: costs.unary.slice(t) };
          for (const h of slot.placements.keys()) {
            for (const g of reached[t]![pitchAt(slot, h)]!) {
              const rest = restOf(lattice, t, g);
              const ways = allPaths(rest).filter(([own]) => own === h);
              const expected = Math.min(...ways.map((path) => worthAfter(rest, later, path, 0)));
              expect(on[t]![g * slot.placements.length + h]).toBe(expected);
            }
          }
        });
      }),
      { numRuns: 400, seed: 41 },
    );
  });

  it('lead to a path that is worth the least', () => {
    let found = 0;
    fc.assert(
      fc.property(instance, ({ lattice, wishes, unit }) => {
        const costs = costsOf(lattice, wishes, unit);
        const messages = wideMessages(lattice, costs);
        if (messages.least === Infinity) return;
        found++;
        const path = [...widePath(lattice, messages)];
        expect(worthAfter(lattice, costs, path)).toBe(messages.least);
        const first = allPaths(lattice).find((one) => worthAfter(lattice, costs, one) === messages.least);
        // Of equals the lowest at each slot in turn; listed in that order.
        expect(path).toEqual(first);
      }),
      { numRuns: 1000, seed: 42 },
    );
    expect(found).toBeGreaterThan(300);
  });

  it('lead to no memory state that a slot cannot be in', () => {
    fc.assert(
      fc.property(instance, slotSeeds, ({ lattice, wishes, unit }, seeds) => {
        const { fewer, blocked } = withFewerRows(lattice, seeds);
        const costs = costsOf(lattice, wishes, unit);
        const [own, other] = [fewer, blocked].map((one) => wideMessages(one, costs));
        expect(own!.least).toBe(other!.least);
        expect(reachedMemories(fewer)).toEqual(reachedMemories(blocked));
        if (own!.least < Infinity) expect(widePath(fewer, own!)).toEqual(widePath(blocked, other!));
      }),
      { numRuns: 500, seed: 44 },
    );
  });

  it('are exact where a sum has more digits than a table of costs could hold', () => {
    const slot = {
      pitches: Int32Array.of(40),
      pitchCosts: new Int32Array(1),
      placements: Int32Array.of(0, 1),
      placementCosts: new Int32Array(2),
      groupStart: Int32Array.of(0, 2),
      stepCosts: new Int32Array(1),
      rules: [{ next: Uint16Array.of(0), costs: Int32Array.of(0) }],
      ruleOf: new Uint16Array(1),
      moves: { costs: Int32Array.of(0, 1, 0, 0) },
    };
    const lattice: Lattice = { slots: [slot, slot], placementCount: 2, memoryCount: 1, startMemory: 0 };
    const unary = [Float64Array.of(2 ** 52, 2 ** 52 + 1), Float64Array.of(7, 5)];
    const messages = wideMessages(lattice, { unary, unit: 1 });
    expect(messages.least).toBe(2 ** 52 + 6);
    expect([...widePath(lattice, messages)]).toEqual([0, 1]);
  });
});

describe('memory states that can be reached', () => {
  it('are those of some path of pitches whose steps may all be made', () => {
    fc.assert(
      fc.property(randomLattice.map(stepsAlone), (lattice) => {
        const still = {
          ...lattice,
          slots: lattice.slots.map((slot) => ({
            ...slot,
            moves: { costs: new Int32Array(slot.moves.costs.length) },
          })),
        };
        const expected = lattice.slots.map(({ pitches }) => Array.from(pitches, () => new Set<number>()));
        for (const path of allPaths(still)) {
          for (let length = 1; length <= path.length; length++) {
            const part = { ...still, slots: still.slots.slice(0, length) };
            if (pathCost(part, path) >= barrier) break;
            const t = length - 1;
            expected[t]![pitchAt(lattice.slots[t]!, path[t]!)]!.add(memoriesOf(still, path)[t]!);
          }
        }
        expect(reachedMemories(lattice).map((rows) => rows.map((row) => [...row]))).toEqual(
          expected.map((rows) => rows.map((states) => [...states].sort((a, b) => a - b))),
        );
      }),
      { numRuns: 300, seed: 43 },
    );
  });
});
