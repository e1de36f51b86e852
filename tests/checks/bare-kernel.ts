// The yardstick for the solver's inner loops: as many relaxations, over arrays of the same sizes, and nothing else.
//
// One relaxation is "if a + b < c then c = a + b". The first kind goes through a row of turn costs for each state, the second
// through a row of moves for each placement. No pitches, groups, masks, limits or paths.
import { countRelaxations, type Lattice } from '../../src/pipeline/4-solver';

/** Sizes of one step of the recursion. */
export interface StepSizes {
  /** States: rows (pitches before) times placements. */
  readonly rows: number;
  readonly placements: number;
  readonly pitches: number;
  /** Of the slot that follows. */
  readonly nextPitches: number;
  readonly nextPlacements: number;
  /** Relaxations on pitches: rows times placements times next pitches when nothing is left out. */
  readonly onPitches: number;
  /** Relaxations on placements: placements times next placements when nothing is left out. */
  readonly onPlacements: number;
}

/** The sizes of all steps with no state left out: |H| |P|^2 + |H|^2, as the recursion says. */
export const stepSizes = ({ slots }: Lattice): readonly StepSizes[] =>
  slots.slice(0, -1).map((slot, t) => {
    const next = slots[t + 1]!;
    const rows = slots[t - 1]?.pitches.length ?? 1;
    const placements = slot.placements.length;
    return {
      rows,
      placements,
      pitches: slot.pitches.length,
      nextPitches: next.pitches.length,
      nextPlacements: next.placements.length,
      onPitches: rows * placements * next.pitches.length,
      onPlacements: placements * next.placements.length,
    };
  });

/** The sizes with what the solver really relaxes, as it counts itself. */
export function prunedSizes(lattice: Lattice): readonly StepSizes[] {
  const counts = countRelaxations(lattice);
  return stepSizes(lattice).map((sizes, t) => ({ ...sizes, ...counts[t]! }));
}

export const relaxationsOf = (sizes: readonly StepSizes[]): number =>
  sizes.reduce((sum, { onPitches, onPlacements }) => sum + onPitches + onPlacements, 0);

/** Runs that many relaxations. @param moves any costs, at least as many as placements of a slot times of the next */
export function runBareKernel(sizes: readonly StepSizes[], turns: Int32Array, moves: Int32Array): number {
  let sink = 0;
  for (const { rows, placements, pitches, nextPitches, nextPlacements, onPitches, onPlacements } of sizes) {
    const best = new Int32Array(placements * nextPitches).fill(1e9);
    const sums = new Int32Array(pitches * nextPlacements).fill(1e9);
    const states = onPitches / nextPitches;
    for (let state = 0; state < states; state++) {
      const out = (state % placements) * nextPitches;
      const row = (state % rows) * nextPitches;
      for (let n = 0; n < nextPitches; n++) {
        const candidate = state + turns[row + n]!;
        if (candidate < best[out + n]!) best[out + n] = candidate;
      }
    }
    const held = onPlacements / nextPlacements;
    for (let count = 0; count < held; count++) {
      const h = count % placements;
      const out = (h % pitches) * nextPlacements;
      const row = h * nextPlacements;
      const sum = best[h * nextPitches]!;
      for (let to = 0; to < nextPlacements; to++) {
        const candidate = sum + moves[row + to]!;
        if (candidate < sums[out + to]!) sums[out + to] = candidate;
      }
    }
    sink += sums[0]!;
  }
  return sink;
}
