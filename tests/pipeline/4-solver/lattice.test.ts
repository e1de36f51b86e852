// The cost of a path, worked out by hand.
import { describe, expect, it } from 'vitest';
import {
  barrier,
  clamp,
  infinite,
  kindOf,
  memoriesOf,
  moveIndex,
  pathCost,
  pitchAt,
  type Lattice,
} from '../../../src/pipeline/4-solver';

/** Two pitches a slot, the lower one with two placements; the automaton counts steps up, to two at most. */
const up = { next: Uint16Array.of(1, 2, 2), costs: Int32Array.of(1, 20, infinite) };
const other = { next: Uint16Array.of(0, 0, 0), costs: Int32Array.of(300, 300, 5000) };

const lattice: Lattice = {
  slots: [0, 1, 2].map((t) => ({
    pitches: Int32Array.of(40, 43),
    pitchCosts: Int32Array.of(10_000 * (t + 1), 0),
    placements: Int32Array.of(2, 0, 1),
    placementCosts: Int32Array.of(0, 100_000, 7),
    groupStart: Int32Array.of(0, 2, 3),
    stepCosts: t === 2 ? new Int32Array(0) : Int32Array.of(0, 1_000_000, 2_000_000, 0),
    rules: [up, other],
    ruleOf: t === 2 ? new Uint16Array(0) : Uint16Array.of(1, 0, 1, 0),
    // From row to column.
    moves: { costs: Int32Array.of(0, 10_000_000, 0, 0, 0, 20_000_000, 0, 0, 0) },
  })),
  placementCount: 3,
  memoryCount: 3,
  startMemory: 0,
};

describe('pathCost', () => {
  it('adds what pitches, placements, steps, rules in their memory states and moves cost', () => {
    // 40 as placement 0, 43 as placement 1, 40 as placement 2: up from state 0, then the other rule from state 1.
    expect([...memoriesOf(lattice, [1, 2, 0])]).toEqual([0, 1, 0]);
    expect(pathCost(lattice, [1, 2, 0])).toBe(
      10_000 + 100_000 + 1_000_000 + 1 + 10_000_000 + 7 + 2_000_000 + 300 + 20_000_000 + 30_000,
    );
  });

  it('depends on the memory state that the path begins in', () => {
    const twice = { ...lattice, startMemory: 1 };
    expect([...memoriesOf(twice, [0, 2, 2])]).toEqual([1, 2, 2]);
    expect(pathCost(twice, [0, 2, 0]) - pathCost(lattice, [0, 2, 0])).toBe(20 - 1 + 5000 - 300);
  });

  it('is beyond the barrier where a step may not be made in its memory state', () => {
    expect(pathCost(lattice, [0, 2, 2])).toBeLessThan(barrier);
    expect(pathCost({ ...lattice, startMemory: 1 }, [0, 2, 2])).toBeGreaterThanOrEqual(barrier);
  });
});

describe('pitchAt', () => {
  it('is the pitch that a placement belongs to', () => {
    expect([0, 1, 2].map((h) => pitchAt(lattice.slots[0]!, h))).toEqual([0, 0, 1]);
  });
});

describe('clamp', () => {
  it('makes every sum from the barrier on the same', () => {
    expect([0, -5, barrier - 1].map(clamp)).toEqual([0, -5, barrier - 1]);
    expect([barrier, infinite, 2 * infinite].map(clamp)).toEqual([infinite, infinite, infinite]);
  });
});

describe('the memory of a path', () => {
  it('stays where it was over a step that may not be made', () => {
    // Up from state 2 may not be made; the other rule from there may.
    expect([...memoriesOf({ ...lattice, startMemory: 2 }, [0, 2, 0])]).toEqual([2, 2, 0]);
    const away = { ...up, next: Uint16Array.of(1, 2, 0) };
    const slots = lattice.slots.map((slot) => ({ ...slot, rules: [away, other] }));
    expect([...memoriesOf({ ...lattice, slots, startMemory: 2 }, [0, 2, 0])]).toEqual([2, 2, 0]);
  });
});

describe('where a move stands in its table', () => {
  it('is row from, column to', () => {
    expect(moveIndex({ costs: new Int32Array(25) }, 5, 3, 1)).toBe(16);
    expect(kindOf({ costs: new Int32Array(25) }, 3)).toBe(3);
  });

  it('is that of those that are alike, where the count lets it be made', () => {
    // Two ways to hold a note low, uncounted and with a count of 1 to 3, one elsewhere that counts for itself, one uncounted.
    const counted = {
      alike: Int32Array.of(0, 0, 0, 0, 1, 1, 2),
      kinds: 3,
      count: Int32Array.of(0, 1, 2, 3, 1, 2, 0),
      group: Int32Array.of(0, 1, 1, 1, 2, 2, 0),
    };
    const table = { costs: new Int32Array(10), counted };
    const never = 9;
    const from = (placement: number): number[] =>
      Array.from({ length: 7 }, (_, to) => moveIndex(table, 7, placement, to));
    // To a count of 1 from whatever has another group or no count; on by one in the same; to none at any time.
    expect(from(0)).toEqual([0, 0, never, never, 1, never, 2]);
    expect(from(1)).toEqual([0, never, 0, never, 1, never, 2]);
    expect(from(2)).toEqual([0, never, never, 0, 1, never, 2]);
    expect(from(3)).toEqual([0, never, never, never, 1, never, 2]);
    expect(from(4)).toEqual([3, 3, never, never, never, 4, 5]);
    expect(from(6)).toEqual([6, 6, never, never, 7, never, 8]);
    expect([3, 5, 6].map((placement) => kindOf(table, placement))).toEqual([0, 1, 2]);
  });
});
