// Both passes of the minimum, against their recursions as they are written down: nothing gathered, nothing skipped.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  backwardMessages,
  barrier,
  bestPath,
  clamp,
  countRelaxations,
  emptySolvedCache,
  forwardMessages,
  infinite,
  pitchOfPlacement,
  minMarginals,
  type Lattice,
  type LatticeSlot,
} from '../../../src/pipeline/4-solver';
import { isSameSums, levelled } from '../../../src/pipeline/4-solver/messages';
import { plainLattice, tenSlots } from './plain-slots';
import { makeLattice } from './wide-lattice';

const pitches = new WeakMap<LatticeSlot, Int32Array>();

function pitchOf(slot: LatticeSlot): Int32Array {
  const found = pitches.get(slot) ?? pitchOfPlacement(slot);
  pitches.set(slot, found);
  return found;
}

const unaryOf = (slot: LatticeSlot, h: number): number =>
  slot.pitchCosts[pitchOf(slot)[h]!]! + slot.placementCosts[h]!;

/** Index of the step from placement h of slot t to placement `to` of the next. */
const cellOf = ({ slots }: Lattice, t: number, h: number, to: number): number =>
  pitchOf(slots[t]!)[h]! * slots[t + 1]!.pitches.length + pitchOf(slots[t + 1]!)[to]!;

/** The memory state after a step out of state g. */
function nextOf(lattice: Lattice, t: number, g: number, h: number, to: number): number {
  const { rules, ruleOf } = lattice.slots[t]!;
  return rules[ruleOf[cellOf(lattice, t, h, to)]!]!.next[g]!;
}

/** What it costs to go on from (g, h) of slot t to placement `to`, without what `to` costs by itself. */
function stepCost(lattice: Lattice, t: number, g: number, h: number, to: number): number {
  const { slots, placementCount } = lattice;
  const { stepCosts, rules, ruleOf, moves, placements } = slots[t]!;
  const cell = cellOf(lattice, t, h, to);
  return clamp(
    stepCosts[cell]! +
      rules[ruleOf[cell]!]!.costs[g]! +
      moves.costs[placements[h]! * placementCount + slots[t + 1]!.placements[to]!]!,
  );
}

type Table = readonly (readonly number[])[];

/** All F_t and W_t, row g, column h, by the definition of a path's cost. */
function wholeMessages(lattice: Lattice): { forward: Table[]; backward: Table[] } {
  const { slots, memoryCount, startMemory } = lattice;
  const grid = (t: number, entry: (g: number, h: number) => number): number[][] =>
    Array.from({ length: memoryCount }, (_, g) =>
      Array.from(slots[t]!.placements, (_placement, h) => clamp(entry(g, h))),
    );
  const forward: Table[] = [grid(0, (g, h) => (g === startMemory ? unaryOf(slots[0]!, h) : infinite))];
  for (let t = 0; t + 1 < slots.length; t++) {
    const before = forward[t]!;
    forward.push(
      grid(t + 1, (q, to) => {
        const ways = before.flatMap((row, g) =>
          row.map((sum, h) =>
            nextOf(lattice, t, g, h, to) === q ? sum + stepCost(lattice, t, g, h, to) : infinite,
          ),
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
    backward[t] = grid(t, (g, h) =>
      Math.min(
        ...Array.from(
          slots[t + 1]!.placements,
          (_, to) =>
            stepCost(lattice, t, g, h, to) +
            unaryOf(slots[t + 1]!, to) +
            after[nextOf(lattice, t, g, h, to)]![to]!,
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
  ruleHeight: fc.constantFrom(0, 40, 400, 2000),
});

describe('messages', () => {
  it('are what their recursions say, at every state', () => {
    fc.assert(
      fc.property(instance, (shape) => {
        const lattice = makeLattice(shape);
        const { forward, backward } = wholeMessages(lattice);
        const [messages, back] = [forwardMessages(lattice), backwardMessages(lattice)];
        forward.forEach((whole, t) => {
          expect([...messages.at(t)]).toEqual(flat(whole));
          expect([...back.at(shape.length - 1 - t)]).toEqual(flat(backward[t]!));
        });
      }),
      { numRuns: 120, seed: 61 },
    );
  });

  it('meet in the best path and every price', () => {
    let open = 0;
    fc.assert(
      fc.property(instance, (shape) => {
        const lattice = makeLattice(shape);
        const { forward, backward } = wholeMessages(lattice);
        const through = forward.map((whole, t) =>
          Array.from(lattice.slots[t]!.placements, (_, h) =>
            clamp(Math.min(...whole.map((row, g) => row[h]! + backward[t]![g]![h]!))),
          ),
        );
        const optimum = Math.min(...through[0]!);
        const prices = minMarginals(lattice);
        if (optimum >= barrier) {
          expect(prices).toBeNull();
          return;
        }
        open++;
        expect(bestPath(lattice)?.cost).toBe(optimum);
        through.forEach((costs, t) => {
          expect([...prices!.at(t)]).toEqual(
            costs.map((cost) => (cost >= barrier ? infinite : cost - optimum)),
          );
        });
      }),
      { numRuns: 120, seed: 62 },
    );
    expect(open).toBeGreaterThan(60);
  });
});

describe('countRelaxations', () => {
  it('counts the states that can be reached, and for each state a rule leads to the placements on both sides', () => {
    fc.assert(
      fc.property(instance, (shape) => {
        const lattice = makeLattice(shape);
        const { forward } = wholeMessages(lattice);
        const expected = lattice.slots.slice(1).map((next, t) => {
          const { pitches: own, groupStart, stepCosts, rules, ruleOf } = lattice.slots[t]!;
          let [onMemory, onPlacements] = [0, 0];
          own.forEach((_, b) => {
            const size = groupStart[b + 1]! - groupStart[b]!;
            next.pitches.forEach((_pitch, n) => {
              const cell = b * next.pitches.length + n;
              const rule = rules[ruleOf[cell]!]!;
              if (stepCosts[cell]! >= barrier) return;
              const from = [...rule.costs.keys()].filter(
                (g) =>
                  rule.costs[g]! < barrier &&
                  forward[t]![g]!.slice(groupStart[b], groupStart[b + 1]).some((sum) => sum < barrier),
              );
              const reached = new Set(from.map((g) => rule.next[g]!));
              onMemory += from.length * size;
              onPlacements += reached.size * size * (next.groupStart[n + 1]! - next.groupStart[n]!);
            });
          });
          return { onMemory, onPlacements };
        });
        expect(countRelaxations(lattice)).toEqual(expected);
      }),
      { numRuns: 60, seed: 65 },
    );
  });
});

describe('a message', () => {
  it('is kept less its least entry, what no path may pay from the barrier on', () => {
    expect([...levelled(Int32Array.of(700, -300, barrier - 1, barrier, infinite))]).toEqual([
      1000,
      0,
      barrier + 299,
      infinite,
      infinite,
    ]);
    expect([...levelled(Int32Array.of(infinite, barrier))]).toEqual([infinite, infinite]);
  });

  it('is the same as one of as many entries, each of them the same', () => {
    const sums = Int32Array.of(0, 20, 300);
    expect(isSameSums(sums, sums.slice())).toBe(true);
    expect(isSameSums(sums, Int32Array.of(0, 20, 301))).toBe(false);
    expect(isSameSums(sums, Int32Array.of(1, 20, 300))).toBe(false);
    expect(isSameSums(sums.slice(0, 2), sums)).toBe(false);
    expect(isSameSums(sums, sums.slice(0, 2))).toBe(false);
  });
});

describe('messages after an edit', () => {
  it.each([
    ['forward', forwardMessages],
    ['backward', backwardMessages],
  ] as const)('are taken over where it is no longer felt, and told as they are made: %s', (pass, make) => {
    const cache = emptySolvedCache();
    const told: number[] = [];
    cache.watch = (one, done) => {
      if (one === pass) told.push(done);
    };
    const { before, edited } = tenSlots();
    make(plainLattice(before, cache));
    expect(told).toEqual(Array.from({ length: 10 }, (_, t) => (t + 1) / 10));
    const chain = make(plainLattice(edited, cache));
    expect(chain.computed).toBeLessThan(5);
    expect(chain.computed).toBeGreaterThan(1);
    expect(cache[pass].last?.chain).toBe(chain);
  });
});
