// Small random lattices for fast-check: costs are arbitrary, some moves and steps impossible. Their automata have three to six
// memory states and rules that lead anywhere; some may not be followed in some states.
import fc from 'fast-check';
import {
  barrier,
  infinite,
  pathCost,
  type Lattice,
  type LatticeSlot,
  type StepRule,
} from '../../../src/pipeline/4-solver';

const placementCount = 7;

interface Shape {
  readonly slots: readonly { readonly pitches: readonly number[]; readonly groups: readonly number[] }[];
  readonly costs: readonly number[];
  readonly blocked: readonly boolean[];
  readonly memoryCount: number;
  readonly startMemory: number;
  /** By rule: where it leads from each memory state, modulo their number, and whether it may be followed there. */
  readonly rules: readonly { readonly next: readonly number[]; readonly isOpen: readonly boolean[] }[];
  readonly ruleOf: readonly number[];
  /** One in so many steps between pitches is never made; none where it is 0. */
  readonly blockedStep: number;
}

const mostMemories = 6;
const ofMemories = <T>(of: fc.Arbitrary<T>): fc.Arbitrary<T[]> =>
  fc.array(of, { minLength: mostMemories, maxLength: mostMemories });

const oftenTrue = fc.nat({ max: 6 }).map((number) => number > 0);

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
  memoryCount: fc.integer({ min: 3, max: mostMemories }),
  startMemory: fc.nat({ max: mostMemories - 1 }),
  rules: fc.array(
    fc.record({ next: ofMemories(fc.nat({ max: mostMemories - 1 })), isOpen: ofMemories(oftenTrue) }),
    { minLength: 1, maxLength: 4 },
  ),
  ruleOf: fc.array(fc.nat({ max: 3 }), { minLength: 7, maxLength: 13 }),
  blockedStep: fc.constantFrom(0, 5, 11),
});

function build(drawn: Shape): Lattice {
  const { slots, costs, blocked, memoryCount } = drawn;
  let cursor = 0;
  const next = (): number => costs[cursor++ % costs.length]!;
  const table = (length: number): Int32Array => Int32Array.from({ length }, next);
  const moves = [0, 1].map((offset) => ({
    costs: table(placementCount * placementCount).map((cost, index) =>
      blocked[(index + offset) % blocked.length] && index % 4 === offset ? infinite : cost,
    ),
  }));
  const rules = drawn.rules.map((rule): StepRule => ({
    next: Uint16Array.from({ length: memoryCount }, (_, g) => rule.next[g]! % memoryCount),
    costs: table(memoryCount).map((cost, g) => (rule.isOpen[g] ? cost : infinite)),
  }));
  let steps = 0;
  const stepCost = (cost: number): number =>
    drawn.blockedStep > 0 && ++steps % drawn.blockedStep === 0 ? infinite : cost;
  const ruleIndex = (): number => drawn.ruleOf[cursor++ % drawn.ruleOf.length]! % rules.length;
  const built = slots.map(({ pitches, groups }, t): LatticeSlot => {
    const sorted = [...pitches].sort((a, b) => a - b);
    const groupStart = [0];
    sorted.forEach((_, index) => groupStart.push(groupStart[index]! + groups[index]!));
    const count = groupStart.at(-1)!;
    const cells = sorted.length * (slots[t + 1]?.pitches.length ?? 0);
    return {
      pitches: Int32Array.from(sorted),
      pitchCosts: table(sorted.length),
      placements: Int32Array.from({ length: count }, (_, h) => (h * 3 + t) % placementCount),
      placementCosts: table(count),
      groupStart: Int32Array.from(groupStart),
      stepCosts: table(cells).map(stepCost),
      rules,
      ruleOf: Uint16Array.from({ length: cells }, ruleIndex),
      moves: moves[t % 2]!,
    };
  });
  return { slots: built, placementCount, memoryCount, startMemory: drawn.startMemory % memoryCount };
}

/** At most 6 placements a slot and 5 slots: few enough paths to list. */
export const randomLattice: fc.Arbitrary<Lattice> = shape.map(build);

/**
 * A lattice whose slots, but for the first, can be in fewer memory states, and the same with those steps blocked that lead to
 * the others.
 */
export function withFewerRows(
  lattice: Lattice,
  seeds: readonly number[],
): { readonly fewer: Lattice; readonly blocked: Lattice } {
  const { slots, memoryCount } = lattice;
  const rowsOf = (t: number): number =>
    t === 0 || t === slots.length ? memoryCount : 1 + (seeds[t]! % memoryCount);
  const fewer = slots.map((slot, t) => ({ ...slot, memoryRows: rowsOf(t) }));
  const blocked = slots.map((slot, t): LatticeSlot => ({
    ...slot,
    rules: slot.rules.map(({ next, costs }) => ({
      next,
      costs: costs.map((cost, g) => (next[g]! < rowsOf(t + 1) ? cost : infinite)),
    })),
  }));
  return { fewer: { ...lattice, slots: fewer }, blocked: { ...lattice, slots: blocked } };
}

/** A number for each slot of a random lattice. */
export const slotSeeds = fc.array(fc.nat(), { minLength: 5, maxLength: 5 });

/** Every path of a lattice. */
export function allPaths(lattice: Lattice): number[][] {
  return lattice.slots.reduce<number[][]>(
    (paths, slot) => paths.flatMap((path) => Array.from(slot.placements, (_, h) => [...path, h])),
    [[]],
  );
}

/** Every path that is not blocked, with its cost. */
export const openPaths = (lattice: Lattice): { readonly path: number[]; readonly cost: number }[] =>
  allPaths(lattice)
    .map((path) => ({ path, cost: pathCost(lattice, path) }))
    .filter(({ cost }) => cost < barrier);

/** Chi-square of counts against expected counts, cells of at least 5 expected alone, less what it may be by chance. */
export function chiSquareExcess(
  counts: ReadonlyMap<string, number>,
  probabilities: ReadonlyMap<string, number>,
  draws: number,
): number {
  let chiSquare = 0;
  let cells = 0;
  for (const [key, probability] of probabilities) {
    const expected = probability * draws;
    if (expected < 5) continue;
    chiSquare += ((counts.get(key) ?? 0) - expected) ** 2 / expected;
    cells++;
  }
  // Mean + 5.5 standard deviations of the chi-square distribution: under 1 in 10^5 a run by chance; the seed is fixed.
  return chiSquare - (cells + 5.5 * Math.sqrt(2 * cells) + 12);
}
