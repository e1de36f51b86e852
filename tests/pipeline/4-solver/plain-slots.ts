// Slots with nothing to choose: one placement of one pitch, told from others by what its pitch costs.
import type { Lattice, LatticeSlot, StepRule } from '../../../src/pipeline/4-solver';

const moves = { costs: new Int32Array(1) };
const stay: StepRule = { next: Uint16Array.of(0), costs: Int32Array.of(0) };

/** Each call makes another object; any of them may follow on any. */
export const plainSlot = (cost: number): LatticeSlot => ({
  pitches: Int32Array.of(40),
  pitchCosts: Int32Array.of(cost),
  placements: Int32Array.of(0),
  placementCosts: Int32Array.of(0),
  groupStart: Int32Array.of(0, 1),
  stepCosts: Int32Array.of(0),
  rules: [stay],
  ruleOf: Uint16Array.of(0),
  moves,
});

export const plainLattice = (slots: readonly LatticeSlot[], cache?: object): Lattice => ({
  slots,
  placementCount: 1,
  memoryCount: 1,
  startMemory: 0,
  ...(cache ? { cache } : {}),
});

/** Ten slots, and the same with the fifth edited. */
export function tenSlots(): {
  readonly before: readonly LatticeSlot[];
  readonly edited: readonly LatticeSlot[];
} {
  const before = Array.from({ length: 10 }, (_, t) => plainSlot(t));
  return { before, edited: before.map((slot, t) => (t === 4 ? plainSlot(90) : slot)) };
}
