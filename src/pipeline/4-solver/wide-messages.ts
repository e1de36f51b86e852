// The least way on from every state, as in backward-messages.ts, in whole numbers too large for its tables: several costs, one
// more important than the next, in one number. Doubles, exact below 2^53.
//
//   K(q, h)    = min over h' with pitch n of  u V_t(h, h') + U(h') + W_{t+1}(q, h')
//   W_t(g, h)  = min over n of                u S(rule, g) + u R_t(b, n) + K(next(rule, g), h),       b = pitch of h
//
// with the unit u and what each placement is worth by itself, U, given by whoever asks.
import { barrier, moveIndex, pitchAt, rowsAt, type Lattice, type LatticeSlot, type Path } from './lattice';
import { kernelOf } from './kernel/vectors';

/** What paths are worth: sums over their slots and steps, less is better. */
export interface WideCosts {
  /** By slot and placement; Infinity where there may be none. */
  readonly unary: readonly Float64Array[];
  /** A thousandth of cost. */
  readonly unit: number;
}

export interface WideMessages {
  /** By slot and state (row memory, column placement): the least that is left after it. Infinity where nothing leads on. */
  readonly on: readonly Float64Array[];
  readonly costs: WideCosts;
  /** Of the best whole path; Infinity where there is none. */
  readonly least: number;
}

/** By slot and pitch: the memory states that it can be in, moves of the hand aside. */
export type Reached = readonly (readonly Int32Array[])[];

export function reachedMemories(lattice: Lattice): Reached {
  const { slots, startMemory } = lattice;
  const open = slots.map(({ pitches }, t) => Array.from(pitches, () => new Uint8Array(rowsAt(lattice, t))));
  for (const row of open[0]!) row[startMemory] = 1;
  for (let t = 0; t + 1 < slots.length; t++) {
    const slot = slots[t]!;
    const columns = slots[t + 1]!.pitches.length;
    open[t]!.forEach((from, b) => {
      for (let n = 0; n < columns; n++) {
        const at = b * columns + n;
        if (slot.stepCosts[at]! >= barrier) continue;
        const { next, costs } = slot.rules[slot.ruleOf[at]!]!;
        const to = open[t + 1]![n]!;
        for (let g = 0; g < from.length; g++)
          if (from[g] && costs[g]! < barrier && next[g]! < to.length) to[next[g]!] = 1;
      }
    });
  }
  return open.map((rows) => rows.map((row) => Int32Array.from([...row.keys()].filter((g) => row[g]))));
}

/** Ways on to each memory state of the next slot, under one rule. */
class Workspace {
  readonly ways: Float64Array;
  /** Where the ways to each state begin; -1 where they are not made. */
  readonly made: Int32Array;

  constructor({ slots, memoryCount }: Lattice) {
    const widest = slots.reduce((most, { placements }) => Math.max(most, placements.length), 0);
    this.ways = new Float64Array(memoryCount * widest);
    this.made = new Int32Array(memoryCount);
  }
}

/** K(q, h) of one q for the placements of pitch b. */
function lookAhead(
  { placements, moves }: LatticeSlot,
  { placements: targets, groupStart }: LatticeSlot,
  placementCount: number,
  [first, size]: readonly [number, number],
  n: number,
  unit: number,
  ahead: Float64Array,
  ways: Float64Array,
  row: number,
): void {
  for (let k = 0; k < size; k++) {
    const placement = placements[first + k]!;
    let least = Infinity;
    for (let to = groupStart[n]!; to < groupStart[n + 1]!; to++) {
      const move = moves.costs[moveIndex(moves, placementCount, placement, targets[to]!)]!;
      if (move >= barrier) continue;
      const sum = move * unit + ahead[to]!;
      if (sum < least) least = sum;
    }
    ways[row + k] = least;
  }
}

function stepBack(
  lattice: Lattice,
  reached: Reached,
  unit: number,
  t: number,
  ahead: Float64Array,
  { ways, made }: Workspace,
): Float64Array {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const width = slot.placements.length;
  const nextWidth = next.placements.length;
  const nextRows = rowsAt(lattice, t + 1);
  const result = new Float64Array(rowsAt(lattice, t) * width).fill(Infinity);
  const columns = next.pitches.length;
  for (let b = 0; b < slot.pitches.length; b++) {
    const first = slot.groupStart[b]!;
    const size = slot.groupStart[b + 1]! - first;
    for (let n = 0; n < columns; n++) {
      const at = b * columns + n;
      if (slot.stepCosts[at]! >= barrier) continue;
      const rule = slot.rules[slot.ruleOf[at]!]!;
      made.fill(-1);
      let count = 0;
      for (const g of reached[t]![b]!) {
        const q = rule.next[g]!;
        if (rule.costs[g]! >= barrier || q >= nextRows) continue;
        let row = made[q]!;
        if (row < 0) {
          row = made[q] = count++ * size;
          const onward = ahead.subarray(q * nextWidth, (q + 1) * nextWidth);
          lookAhead(slot, next, lattice.placementCount, [first, size], n, unit, onward, ways, row);
        }
        const cost = (slot.stepCosts[at]! + rule.costs[g]!) * unit;
        const out = g * width + first;
        for (let k = 0; k < size; k++) {
          const sum = ways[row + k]! + cost;
          if (sum < result[out + k]!) result[out + k] = sum;
        }
      }
    }
  }
  return result;
}

/** What is left from a slot on, the slot itself taken in. */
function aheadOf(after: Float64Array, unary: Float64Array): Float64Array {
  const ahead = new Float64Array(after.length);
  for (let row = 0; row < after.length; row += unary.length)
    for (let h = 0; h < unary.length; h++) ahead[row + h] = after[row + h]! + unary[h]!;
  return ahead;
}

/** @param reached of a lattice with the same steps and rules, where it is known */
export function wideMessages(
  lattice: Lattice,
  costs: WideCosts,
  reached: Reached = reachedMemories(lattice),
): WideMessages {
  const { slots, startMemory } = lattice;
  const last = slots.length - 1;
  const kernel = kernelOf(lattice);
  const work = new Workspace(lattice);
  const on = new Array<Float64Array>(slots.length);
  on[last] = new Float64Array(rowsAt(lattice, last) * slots[last]!.placements.length);
  for (let t = last - 1; t >= 0; t--) {
    const ahead = aheadOf(on[t + 1]!, costs.unary[t + 1]!);
    on[t] =
      kernel?.wide(lattice, reached[t]!, costs.unit, t, ahead) ??
      stepBack(lattice, reached, costs.unit, t, ahead, work);
  }
  const width = slots[0]!.placements.length;
  let least = Infinity;
  costs.unary[0]!.forEach((value, h) => (least = Math.min(least, value + on[0]![startMemory * width + h]!)));
  return { on, costs, least };
}

/** The best path, read from its messages; there must be one. Ties go to the lowest index. */
export function widePath(lattice: Lattice, { on, costs }: WideMessages): Path {
  const { slots, startMemory, placementCount } = lattice;
  const path = new Int32Array(slots.length);
  let memory = startMemory;
  let best = Infinity;
  costs.unary[0]!.forEach((value, h) => {
    const worth = value + on[0]![startMemory * slots[0]!.placements.length + h]!;
    if (worth < best) [best, path[0]] = [worth, h];
  });
  for (let t = 0; t + 1 < slots.length; t++) {
    const slot = slots[t]!;
    const next = slots[t + 1]!;
    const width = next.placements.length;
    const columns = next.pitches.length;
    const b = pitchAt(slot, path[t]!);
    let least = Infinity;
    let leads = memory;
    for (let n = 0; n < columns; n++) {
      const at = b * columns + n;
      const rule = slot.rules[slot.ruleOf[at]!];
      if (!rule || slot.stepCosts[at]! >= barrier || rule.costs[memory]! >= barrier) continue;
      const q = rule.next[memory]!;
      if (q >= rowsAt(lattice, t + 1)) continue;
      for (let h = next.groupStart[n]!; h < next.groupStart[n + 1]!; h++) {
        const target = next.placements[h]!;
        const move =
          slot.moves.costs[moveIndex(slot.moves, placementCount, slot.placements[path[t]!]!, target)]!;
        if (move >= barrier) continue;
        const sum =
          (slot.stepCosts[at]! + rule.costs[memory]! + move) * costs.unit +
          costs.unary[t + 1]![h]! +
          on[t + 1]![q * width + h]!;
        if (sum < least) [least, path[t + 1], leads] = [sum, h, q];
      }
    }
    memory = leads;
  }
  return path;
}
