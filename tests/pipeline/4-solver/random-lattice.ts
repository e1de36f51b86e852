// Small random lattices for fast-check: costs are arbitrary, some moves impossible.
import fc from 'fast-check';
import { infinite, type Lattice, type LatticeSlot } from '../../../src/pipeline/4-solver';

const placementCount = 7;

interface Shape {
  readonly slots: readonly { readonly pitches: readonly number[]; readonly groups: readonly number[] }[];
  readonly costs: readonly number[];
  readonly blocked: readonly boolean[];
  /** Turns that cost the same by kind, but for those that go back, as the solver knows to make use of. */
  readonly areTurnsFew: boolean;
}

const shape: fc.Arbitrary<Shape> = fc.record({
  slots: fc.array(
    fc.record({
      pitches: fc.uniqueArray(fc.integer({ min: 0, max: 5 }), { minLength: 1, maxLength: 3 }),
      groups: fc.array(fc.integer({ min: 1, max: 2 }), { minLength: 3, maxLength: 3 }),
    }),
    { minLength: 1, maxLength: 5 },
  ),
  costs: fc.array(fc.integer({ min: -3000, max: 3000 }), { minLength: 31, maxLength: 97 }),
  blocked: fc.array(fc.boolean(), { minLength: 5, maxLength: 11 }),
  areTurnsFew: fc.boolean(),
});

/** Kinds of step: down or up, near or far, or none. */
const kindOf = (step: number): number => Math.sign(step) * (Math.abs(step) > 2 ? 2 : 1) + 2;

/** A table of turns of few kinds; `costs` has one for each two kinds, `backs` one for each step taken back. */
export function fewTurns(reach: number, costs: ArrayLike<number>, backs: ArrayLike<number>): Int32Array {
  const width = 2 * reach + 1;
  return Int32Array.from({ length: width * width }, (_, index) => {
    const first = Math.floor(index / width) - reach;
    const second = (index % width) - reach;
    return first + second === 0 ? backs[first + reach]! : costs[kindOf(first) * 5 + kindOf(second)]!;
  });
}

function build({ slots, costs, blocked, areTurnsFew }: Shape): Lattice {
  let cursor = 0;
  const next = (): number => costs[cursor++ % costs.length]!;
  const table = (length: number): Int32Array => Int32Array.from({ length }, next);
  const reach = 5;
  const moves = [0, 1].map((offset) => ({
    costs: table(placementCount * placementCount).map((cost, index) =>
      blocked[(index + offset) % blocked.length] && index % 4 === offset ? infinite : cost,
    ),
  }));
  const built = slots.map(({ pitches, groups }, t): LatticeSlot => {
    const sorted = [...pitches].sort((a, b) => a - b);
    const groupStart = [0];
    sorted.forEach((_, index) => groupStart.push(groupStart[index]! + groups[index]!));
    const count = groupStart.at(-1)!;
    const following = slots[t + 1];
    return {
      pitches: Int32Array.from(sorted),
      pitchCosts: table(sorted.length),
      placements: Int32Array.from({ length: count }, (_, h) => (h * 3 + t) % placementCount),
      placementCosts: table(count),
      groupStart: Int32Array.from(groupStart),
      stepCosts: table(following ? sorted.length * following.pitches.length : 0),
      moves: moves[t % 2]!,
    };
  });
  const turnCosts = areTurnsFew
    ? fewTurns(reach, table(25), table(2 * reach + 1))
    : table((2 * reach + 1) ** 2);
  return { slots: built, placementCount, turnCosts, reach };
}

/** At most 6 placements a slot and 5 slots: few enough paths to list. */
export const randomLattice: fc.Arbitrary<Lattice> = shape.map(build);

/** Every path of a lattice. */
export function allPaths(lattice: Lattice): number[][] {
  return lattice.slots.reduce<number[][]>(
    (paths, slot) => paths.flatMap((path) => Array.from(slot.placements, (_, h) => [...path, h])),
    [[]],
  );
}
