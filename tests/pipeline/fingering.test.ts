// The best fingering of settled notes, against listing the placements of those notes.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ticks } from '../../src/music';
import type { Slot, Timeline } from '../../src/pipeline/2-timeline';
import { barrier, pitchAt, type Lattice, type LatticeSlot } from '../../src/pipeline/4-solver';
import { bestFingering, steadyFingering } from '../../src/pipeline/choice/fingering';
import { openPaths, randomLattice, allPaths } from './4-solver/random-lattice';

/** What the hand pays on a path: placements and moves, nothing for the notes. */
function handCost({ slots, placementCount }: Lattice, path: ArrayLike<number>): number {
  return slots.reduce((sum, slot, t) => {
    const next = slots[t + 1];
    const move = next
      ? slot.moves.costs[slot.placements[path[t]!]! * placementCount + next.placements[path[t + 1]!]!]!
      : 0;
    return sum + slot.placementCosts[path[t]!]! + move;
  }, 0);
}

const pitchesOf = ({ slots }: Lattice, path: ArrayLike<number>): number[] =>
  slots.map((slot, t) => pitchAt(slot, path[t]!));

/** A lattice and one of its paths. */
const drawn = fc
  .tuple(randomLattice, fc.nat())
  .map(([lattice, pick]) => {
    const paths = openPaths(lattice);
    return paths.length === 0 ? null : { lattice, path: Int32Array.from(paths[pick % paths.length]!.path) };
  })
  .filter((one) => one !== null);

/** Bars of so many slots; of a timeline no more is looked at. */
const timelineOf = (length: number, inBar: number): Timeline =>
  ({
    slots: Array.from(
      { length },
      (_, index) => ({ bar: Math.floor(index / inBar), ticks: ticks(480) }) as Slot,
    ),
  }) as unknown as Timeline;

describe('bestFingering', () => {
  it('costs the hand the least of all ways to play the notes of a path', () => {
    let better = 0;
    fc.assert(
      fc.property(drawn, ({ lattice, path }) => {
        const notes = String(pitchesOf(lattice, path));
        const costs = allPaths(lattice)
          .filter((other) => String(pitchesOf(lattice, other)) === notes)
          .map((other) => handCost(lattice, other));
        const found = bestFingering(lattice, path);
        expect(found.cost).toBe(Math.min(...costs));
        expect(handCost(lattice, found.path)).toBe(found.cost);
        expect(String(pitchesOf(lattice, found.path))).toBe(notes);
        if (found.cost < handCost(lattice, path)) better++;
      }),
      { numRuns: 500, seed: 91 },
    );
    expect(better).toBeGreaterThan(100);
  });
});

describe('steadyFingering', () => {
  it('never costs more than the best fingering, and plays the same notes', () => {
    fc.assert(
      fc.property(drawn, fc.integer({ min: 1, max: 2 }), ({ lattice, path }, inBar) => {
        const found = steadyFingering(lattice, path, timelineOf(path.length, inBar));
        expect(found.cost).toBe(bestFingering(lattice, path).cost);
        expect(handCost(lattice, found.path)).toBe(found.cost);
        expect(pitchesOf(lattice, found.path)).toEqual(pitchesOf(lattice, path));
      }),
      { numRuns: 500, seed: 92 },
    );
  });

  /** One pitch that two placements have; it costs to go from one to the other only where `moveCost` says so. */
  const slot = (first: number, second: number, moveCost = 0): LatticeSlot => ({
    pitches: Int32Array.of(0),
    pitchCosts: Int32Array.of(0),
    placements: Int32Array.of(0, 1),
    placementCosts: Int32Array.of(first, second),
    groupStart: Int32Array.of(0, 2),
    stepCosts: Int32Array.of(0),
    rules: [{ next: Uint16Array.of(0), costs: Int32Array.of(0) }],
    ruleOf: Uint16Array.of(0),
    moves: { costs: Int32Array.of(0, moveCost, moveCost, 0) },
  });
  const latticeOf = (...slots: LatticeSlot[]): Lattice => ({
    slots,
    placementCount: 2,
    memoryCount: 1,
    startMemory: 0,
  });
  const held = (lattice: Lattice): number[] => {
    const { path } = steadyFingering(lattice, new Int32Array(lattice.slots.length), timelineOf(2, 1));
    return [...path];
  };

  it('holds a bar that comes again as it was the first time, where that costs nothing', () => {
    const lattice = latticeOf(slot(5, 0), slot(0, 0));
    expect([...bestFingering(lattice, new Int32Array(2)).path]).toEqual([1, 0]);
    expect(held(lattice)).toEqual([1, 1]);
  });

  it('never at a cost, however little', () => {
    expect(held(latticeOf(slot(5, 0), slot(0, 1)))).toEqual([1, 0]);
  });

  it('leaves a bar of other lengths alone', () => {
    const lattice = latticeOf(slot(5, 0), slot(0, 0));
    const timeline = timelineOf(2, 1);
    const slots = timeline.slots.map((one, t) => ({ ...one, ticks: ticks(480 + 240 * t) }));
    expect([...steadyFingering(lattice, new Int32Array(2), { ...timeline, slots }).path]).toEqual([1, 0]);
  });

  it('keeps the masks of the lattice', () => {
    const lattice = latticeOf(slot(5, 0), slot(0, 2 * barrier));
    expect(held(lattice)).toEqual([1, 0]);
  });
});
