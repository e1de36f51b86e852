// The yardstick for the solver's inner loops: as many relaxations, over arrays of the same sizes, and nothing else.
//
// One relaxation is "if a + b < c then c = a + b". The first kind goes through the placements of one pitch for each memory
// state, the second through a row of moves for each placement and memory state that is reached. No masks, limits or paths.
import { barrier, countRelaxations, type Lattice, type StepRule } from '../../src/pipeline/4-solver';

/** Sizes of one step of the recursion. */
export interface StepSizes {
  readonly memories: number;
  readonly placements: number;
  readonly pitches: number;
  /** Of the slot that follows. */
  readonly nextPitches: number;
  readonly nextPlacements: number;
  /** Relaxations on memory: states of a pitch, for each step that is made from it. */
  readonly onMemory: number;
  /** Relaxations on placements: for each step those of both pitches, for each memory state that its rule leads to. */
  readonly onPlacements: number;
}

/** Memory states in which a rule may be followed, and how many they lead to. */
function openOf({ next, costs }: StepRule): { readonly from: number; readonly to: number } {
  const open = [...costs.keys()].filter((g) => costs[g]! < barrier);
  return { from: open.length, to: new Set(open.map((g) => next[g])).size };
}

/** The sizes of all steps when every memory state is open everywhere. */
export function stepSizes({ slots, memoryCount }: Lattice): readonly StepSizes[] {
  const known = new Map<StepRule, ReturnType<typeof openOf>>();
  return slots.slice(0, -1).map((slot, t) => {
    const next = slots[t + 1]!;
    let onMemory = 0;
    let onPlacements = 0;
    slot.stepCosts.forEach((cost, cell) => {
      if (cost >= barrier) return;
      const [b, n] = [Math.floor(cell / next.pitches.length), cell % next.pitches.length];
      const size = slot.groupStart[b + 1]! - slot.groupStart[b]!;
      const rule = slot.rules[slot.ruleOf[cell]!]!;
      const open = known.get(rule) ?? openOf(rule);
      known.set(rule, open);
      onMemory += open.from * size;
      onPlacements += open.to * size * (next.groupStart[n + 1]! - next.groupStart[n]!);
    });
    return {
      memories: memoryCount,
      placements: slot.placements.length,
      pitches: slot.pitches.length,
      nextPitches: next.pitches.length,
      nextPlacements: next.placements.length,
      onMemory,
      onPlacements,
    };
  });
}

/** The sizes with what the solver really relaxes, as it counts itself. */
export function countedSizes(lattice: Lattice): readonly StepSizes[] {
  const counts = countRelaxations(lattice);
  return stepSizes(lattice).map((sizes, t) => ({ ...sizes, ...counts[t]! }));
}

export const relaxationsOf = (sizes: readonly StepSizes[]): number =>
  sizes.reduce((sum, { onMemory, onPlacements }) => sum + onMemory + onPlacements, 0);

/** Runs that many relaxations. @param moves any costs, at least as many as placements of a slot times of the next */
export function runBareKernel(sizes: readonly StepSizes[], moves: Int32Array): number {
  let sink = 0;
  for (const step of sizes) {
    const { memories, placements, pitches, nextPitches, nextPlacements, onMemory, onPlacements } = step;
    const states = new Int32Array(memories * placements).fill(7);
    const ways = new Int32Array(memories * placements).fill(1e9);
    const sums = new Int32Array(memories * nextPlacements).fill(1e9);
    const size = Math.max(1, Math.round(placements / pitches));
    const targets = Math.max(1, Math.round(nextPlacements / nextPitches));
    for (let row = 0; row < onMemory / size; row++) {
      const from = (row % memories) * placements;
      const out = (row % pitches) * size;
      for (let k = 0; k < size; k++) {
        const candidate = states[from + k]! + row;
        if (candidate < ways[out + k]!) ways[out + k] = candidate;
      }
    }
    for (let row = 0; row < onPlacements / targets; row++) {
      const held = row % placements;
      const out = (row % memories) * nextPlacements + (row % nextPitches) * targets;
      const end = Math.min(out + targets, sums.length);
      const moveRow = held * nextPlacements - out;
      const way = ways[held]!;
      for (let to = out; to < end; to++) {
        const candidate = (way + moves[moveRow + to]!) | 0;
        if (candidate < sums[to]!) sums[to] = candidate;
      }
    }
    sink += sums[0]!;
  }
  return sink;
}
