import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/music';
import {
  barrier,
  blockOf,
  infinite,
  makeSampler,
  pathCost,
  pitchOfPlacement,
  redraw,
  settledAfter,
  type Lattice,
  type Path,
} from '../../../src/pipeline/4-solver';
import { allPaths, chiSquareExcess, openPaths, randomLattice } from './random-lattice';

/** A lattice, a path drawn from it, and a window of its slots. */
interface Window {
  readonly lattice: Lattice;
  readonly path: Path;
  readonly from: number;
  readonly to: number;
  readonly random: () => number;
}

const window = fc
  .tuple(randomLattice, fc.nat(), fc.nat(), fc.integer())
  .map(([lattice, a, b, seed]): Window | null => {
    const random = seededRandom(seed);
    const path = makeSampler(lattice, 1, 1000).draw(random);
    const count = lattice.slots.length;
    const [from, to] = [Math.min(a % count, b % count), Math.max(a % count, b % count)];
    return path && { lattice, path, from, to, random };
  })
  .filter((one) => one !== null);

const isKeptOutside =
  ({ path, from, to }: Window) =>
  (other: ArrayLike<number>): boolean =>
    path.every((h, t) => (t >= from && t <= to) || other[t] === h);

describe('redraw', () => {
  it('changes nothing outside the window and draws the inside as often as its conditional probability says', () => {
    fc.assert(
      fc.property(window, (one) => {
        const { lattice, path, from, to, random } = one;
        const isKept = isKeptOutside(one);
        const open = openPaths(lattice).filter((other) => isKept(other.path));
        const weightOf = (cost: number): number => Math.exp(-cost / 1000);
        const total = open.reduce((sum, { cost }) => sum + weightOf(cost), 0);
        const exact = new Map(open.map((other) => [other.path.join(), weightOf(other.cost) / total]));
        const draws = 600;
        const counts = new Map<string, number>();
        for (let k = 0; k < draws; k++) {
          const drawn = redraw(lattice, path, from, to, 1, 1000, random)!;
          expect(exact.has(drawn.join())).toBe(true);
          counts.set(drawn.join(), (counts.get(drawn.join()) ?? 0) + 1);
        }
        expect(chiSquareExcess(counts, exact, draws)).toBeLessThan(0);
      }),
      { numRuns: 40, seed: 21 },
    );
  });
});

describe('makeRedraw', () => {
  it('leaves the path it was given, and gives null where the window has no way through', () => {
    fc.assert(
      fc.property(window, ({ lattice, path, from, to, random }) => {
        const before = [...path];
        redraw(lattice, path, from, to, 1, 1000, random);
        expect([...path]).toEqual(before);
        const slots = lattice.slots.map((slot, t) =>
          t === from ? { ...slot, placementCosts: slot.placementCosts.map(() => infinite) } : slot,
        );
        expect(redraw({ ...lattice, slots }, path, from, to, 1, 1000, random)).toBeNull();
      }),
      { numRuns: 50, seed: 24 },
    );
  });
});

/** The memory states that the notes of a path from slot `first` to slot `last` lead to, by the state at `first`. */
function followed(lattice: Lattice, path: Path, first: number, last: number): Set<number> {
  const { slots, memoryCount } = lattice;
  const pitchOf = slots.map(pitchOfPlacement);
  const reached = new Set<number>();
  for (let start = 0; start < memoryCount; start++) {
    let state: number | null = start;
    for (let t = first; t < last && state !== null; t++) {
      const cell = pitchOf[t]![path[t]!]! * slots[t + 1]!.pitches.length + pitchOf[t + 1]![path[t + 1]!]!;
      const rule = slots[t]!.rules[slots[t]!.ruleOf[cell]!]!;
      state = rule.costs[state]! >= barrier ? null : rule.next[state]!;
    }
    if (state !== null) reached.add(state);
  }
  return reached;
}

describe('settledAfter', () => {
  it('is the first slot where the memory is one whatever it was after the window, else the last slot', () => {
    let later = 0;
    fc.assert(
      fc.property(window, ({ lattice, path, to }) => {
        const last = lattice.slots.length - 1;
        let expected = Math.min(to + 1, last);
        while (expected < last && followed(lattice, path, to + 1, expected).size > 1) expected++;
        expect(settledAfter(lattice, path, to)).toBe(expected);
        if (expected > to + 1 && expected < last) later++;
      }),
      { numRuns: 4000, seed: 22 },
    );
    expect(later).toBeGreaterThan(10);
  });
});

describe('blockOf', () => {
  it('offers every way through the window, and costs differ in it as they do in the whole', () => {
    fc.assert(
      fc.property(window, (one) => {
        const { lattice, path, from, to } = one;
        const { lattice: block, first } = blockOf(lattice, path, from, to);
        const rows = lattice.slots.map((slot) => ({ ...slot, memoryRows: lattice.memoryCount }));
        for (const slot of blockOf({ ...lattice, slots: rows }, path, from, to).lattice.slots)
          expect(slot.memoryRows).toBe(lattice.memoryCount);
        const whole = new Map(
          openPaths(lattice)
            .filter((other) => isKeptOutside(one)(other.path))
            .map((other) => [other.path.slice(from, to + 1).join(), other.cost - pathCost(lattice, path)]),
        );
        const own = Array.from(block.slots, (slot, t) =>
          first + t >= from && first + t <= to ? path[first + t]! : slot.placements.length - 1,
        );
        const inBlock = new Map(
          allPaths(block)
            .map((other) => ({
              key: other.slice(from - first, to - first + 1).join(),
              cost: pathCost(block, other),
            }))
            .filter(({ cost }) => cost < barrier)
            .map(({ key, cost }) => [key, cost - pathCost(block, own)]),
        );
        expect(inBlock).toEqual(whole);
      }),
      { numRuns: 500, seed: 23 },
    );
  });
});
