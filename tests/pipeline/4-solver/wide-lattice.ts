// Wider random lattices than can be listed path by path, from a seed: for recursions against their definitions.
import { seededRandom, type Random } from '../../../src/music';
import { infinite, type Lattice, type LatticeSlot, type StepRule } from '../../../src/pipeline/4-solver';

const placementCount = 24;
const highest = 7;

/** Whole numbers from 0 to most. */
const upTo = (most: number, random: Random): number => Math.floor(random() * (most + 1));

/** A table of costs up to a height; some entries are infinite where `blocked` is above 0. */
const table = (length: number, most: number, random: Random, blocked = 0): Int32Array =>
  Int32Array.from({ length }, () => (random() < blocked ? infinite : upTo(most, random)));

/** What slots are cut from: every placement has one pitch, every two pitches have a step with its rule. */
export interface Stock {
  readonly pitchOf: readonly number[];
  readonly moves: readonly { readonly costs: Int32Array }[];
  readonly steps: Int32Array;
  readonly rules: readonly StepRule[];
  readonly ruleOf: readonly number[];
  readonly memoryCount: number;
  readonly startMemory: number;
}

/** @param ruleHeight the most a rule costs: where it is little there are ties */
export function makeStock(random: Random, ruleHeight: number): Stock {
  const memoryCount = 3 + upTo(3, random);
  const rules = Array.from({ length: 1 + upTo(5, random) }, (): StepRule => ({
    next: Uint16Array.from({ length: memoryCount }, () => upTo(memoryCount - 1, random)),
    costs: table(memoryCount, ruleHeight, random, 0.15).map((cost) => cost - upTo(100, random)),
  }));
  const cells = (highest + 1) ** 2;
  return {
    pitchOf: Array.from({ length: placementCount }, () => upTo(highest, random)),
    moves: [0, 0.1].map((blocked) => ({ costs: table(placementCount ** 2, 900, random, blocked) })),
    steps: table(cells, 3000, random, 0.1),
    rules,
    ruleOf: Array.from({ length: cells }, () => upTo(rules.length - 1, random)),
    memoryCount,
    startMemory: upTo(memoryCount - 1, random),
  };
}

/** A slot with some of the placements of the stock, not yet joined to another. */
export function makeSlot({ pitchOf, moves, rules }: Stock, random: Random): LatticeSlot {
  const offered = pitchOf.flatMap((_, id) => (random() < 0.7 ? [id] : []));
  const own = offered.length > 0 ? offered : [upTo(placementCount - 1, random)];
  const pitches = [...new Set(own.map((id) => pitchOf[id]!))].sort((a, b) => a - b);
  const placements = pitches.flatMap((pitch) => own.filter((id) => pitchOf[id] === pitch));
  return {
    pitches: Int32Array.from(pitches),
    pitchCosts: table(pitches.length, 1500, random),
    placements: Int32Array.from(placements),
    placementCosts: table(placements.length, 800, random, 0.05),
    groupStart: Int32Array.from([...pitches, highest + 1], (pitch) =>
      placements.reduce((count, id) => count + (pitchOf[id]! < pitch ? 1 : 0), 0),
    ),
    stepCosts: new Int32Array(0),
    rules,
    ruleOf: new Uint16Array(0),
    moves: moves[upTo(1, random)]!,
  };
}

/** Steps and their rules by pitch and next pitch, the same for the same two. */
export function joined(slots: readonly LatticeSlot[], { steps, ruleOf }: Stock): LatticeSlot[] {
  return slots.map((slot, t) => {
    const following = [...(slots[t + 1]?.pitches ?? [])];
    const cells = [...slot.pitches].flatMap((a) => following.map((b) => a * (highest + 1) + b));
    return {
      ...slot,
      stepCosts: Int32Array.from(cells, (cell) => steps[cell]!),
      ruleOf: Uint16Array.from(cells, (cell) => ruleOf[cell]!),
    };
  });
}

export const latticeOf = (slots: readonly LatticeSlot[], { memoryCount, startMemory }: Stock): Lattice => ({
  slots,
  placementCount,
  memoryCount,
  startMemory,
});

export interface Shape {
  readonly seed: number;
  readonly length: number;
  readonly ruleHeight: number;
}

export function makeLattice({ seed, length, ruleHeight }: Shape): Lattice {
  const random = seededRandom(seed);
  const stock = makeStock(random, ruleHeight);
  const slots = Array.from({ length }, () => makeSlot(stock, random));
  return latticeOf(joined(slots, stock), stock);
}

/** The slot without some of its placements. */
export function masked(slot: LatticeSlot, random: Random): LatticeSlot {
  const costs = slot.placementCosts.map((cost) => (random() < 0.3 ? infinite : cost));
  return { ...slot, placementCosts: costs };
}
