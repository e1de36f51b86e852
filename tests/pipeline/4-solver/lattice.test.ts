// The cost of a path, worked out by hand.
import { describe, expect, it } from 'vitest';
import {
  barrier,
  infinite,
  memoriesOf,
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
