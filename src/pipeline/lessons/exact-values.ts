// The least way on from every state of a lattice, in whole numbers too large for its own tables: notes changed, cost and
// fingers changed in one number.
import { barrier, pitchAt, rowsAt, type Lattice, type Path } from '../4-solver';
import type { Before } from './fewest';

/** What paths are worth: sums over their slots and steps, less is better. All whole numbers below 2^53. */
export interface Values {
  /** By slot and placement. */
  readonly unary: readonly Float64Array[];
  /** A thousandth of cost. */
  readonly unit: number;
  /** A note other than before; more than any two lines can differ in cost and fingers. */
  readonly change: number;
  readonly worthOf: (path: ArrayLike<number>) => number;
}

/** Fingers that can be changed, at most, and thousandths that two lines can differ in. */
const unit = 2 ** 10;
const change = 2 ** 40;

/** @param before null for none: cost alone counts */
export function valuesOf(lattice: Lattice, before: Before | null): Values {
  const { slots } = lattice;
  const unary = slots.map((slot, t) => {
    const note = before?.[t];
    return Float64Array.from(slot.placements, (_, h) => {
      const pitch = pitchAt(slot, h);
      const cost = slot.pitchCosts[pitch]! + slot.placementCosts[h]!;
      if (slot.pitchCosts[pitch]! >= barrier || slot.placementCosts[h]! >= barrier) return Infinity;
      const isOther = note !== undefined && note !== null && slot.pitches[pitch] !== note.midi;
      const isHeldOtherwise = note !== undefined && note !== null && !note.isHeldAlike(h);
      return cost * unit + (isOther ? change : 0) + (isHeldOtherwise ? 1 : 0);
    });
  });
  const worthOf = (path: ArrayLike<number>): number => {
    let memory = lattice.startMemory;
    return slots.reduce((sum, slot, t) => {
      const own = sum + unary[t]![path[t]!]!;
      const next = slots[t + 1];
      if (!next) return own;
      const at = pitchAt(slot, path[t]!) * next.pitches.length + pitchAt(next, path[t + 1]!);
      const rule = slot.rules[slot.ruleOf[at]!]!;
      const cost = rule.costs[memory]!;
      memory = rule.next[memory]!;
      const move =
        slot.moves.costs[
          slot.placements[path[t]!]! * lattice.placementCount + next.placements[path[t + 1]!]!
        ]!;
      return own + (slot.stepCosts[at]! + cost + move) * unit;
    }, 0);
  };
  return { unary, unit, change, worthOf };
}

export interface Tables {
  /** By slot and state (row memory, column placement): the least that is left after it. Infinity where nothing leads on. */
  readonly on: readonly Float64Array[];
  readonly values: Values;
  /** Of the best whole path; Infinity where there is none. */
  readonly least: number;
}

/** Memory states that a slot can be in with each pitch, moves of the hand aside. */
const reachedIn = new WeakMap<Lattice, readonly (readonly Uint8Array[])[]>();

function reached(lattice: Lattice): readonly (readonly Uint8Array[])[] {
  const known = reachedIn.get(lattice);
  if (known) return known;
  const { slots, startMemory } = lattice;
  const result = slots.map((slot, t) =>
    slot.pitches.reduce<Uint8Array[]>((all) => [...all, new Uint8Array(rowsAt(lattice, t))], []),
  );
  for (const row of result[0]!) row[startMemory] = 1;
  for (let t = 0; t + 1 < slots.length; t++) {
    const slot = slots[t]!;
    const columns = slots[t + 1]!.pitches.length;
    result[t]!.forEach((open, b) => {
      for (let n = 0; n < columns; n++) {
        const at = b * columns + n;
        if (slot.stepCosts[at]! >= barrier) continue;
        const { next, costs } = slot.rules[slot.ruleOf[at]!]!;
        const to = result[t + 1]![n]!;
        for (let g = 0; g < open.length; g++)
          if (open[g] && costs[g]! < barrier && next[g]! < to.length) to[next[g]!] = 1;
      }
    });
  }
  reachedIn.set(lattice, result);
  return result;
}

function stepBack(lattice: Lattice, values: Values, t: number, after: Float64Array): Float64Array {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const { placements, groupStart, moves } = slot;
  const width = placements.length;
  const nextWidth = next.placements.length;
  const unary = values.unary[t + 1]!;
  const ahead = after.map((left, state) => left + unary[state % nextWidth]!);
  const result = new Float64Array(rowsAt(lattice, t) * width).fill(Infinity);
  const columns = next.pitches.length;
  const nextRows = rowsAt(lattice, t + 1);
  const open = reached(lattice)[t]!;
  // Ways on to each memory state of the next slot under one rule, and where they begin.
  const ways = new Float64Array(nextRows * width);
  const made = new Int32Array(nextRows);
  for (let b = 0; b < slot.pitches.length; b++) {
    const first = groupStart[b]!;
    const size = groupStart[b + 1]! - first;
    for (let n = 0; n < columns; n++) {
      const at = b * columns + n;
      if (slot.stepCosts[at]! >= barrier) continue;
      const rule = slot.rules[slot.ruleOf[at]!]!;
      made.fill(-1);
      let count = 0;
      for (let g = 0; g < open[b]!.length; g++) {
        const q = rule.next[g]!;
        if (!open[b]![g] || rule.costs[g]! >= barrier || q >= nextRows) continue;
        let row = made[q]!;
        if (row < 0) {
          row = made[q] = count++ * size;
          for (let k = 0; k < size; k++) {
            const moveRow = placements[first + k]! * lattice.placementCount;
            let least = Infinity;
            for (let to = next.groupStart[n]!; to < next.groupStart[n + 1]!; to++) {
              const move = moves.costs[moveRow + next.placements[to]!]!;
              if (move >= barrier) continue;
              const sum = move * values.unit + ahead[q * nextWidth + to]!;
              if (sum < least) least = sum;
            }
            ways[row + k] = least;
          }
        }
        const cost = (slot.stepCosts[at]! + rule.costs[g]!) * values.unit;
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

export function tables(lattice: Lattice, values: Values): Tables {
  const { slots, startMemory } = lattice;
  const last = slots.length - 1;
  const on = new Array<Float64Array>(slots.length);
  on[last] = new Float64Array(rowsAt(lattice, last) * slots[last]!.placements.length);
  for (let t = last - 1; t >= 0; t--) on[t] = stepBack(lattice, values, t, on[t + 1]!);
  const width = slots[0]!.placements.length;
  let least = Infinity;
  values.unary[0]!.forEach((value, h) => (least = Math.min(least, value + on[0]![startMemory * width + h]!)));
  return { on, values, least };
}

/** The best path, from its tables; there must be one. */
export function traced(lattice: Lattice, { on, values }: Tables): Path {
  const { slots, startMemory, placementCount } = lattice;
  const path = new Int32Array(slots.length);
  let memory = startMemory;
  let best = Infinity;
  values.unary[0]!.forEach((value, h) => {
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
        const move = slot.moves.costs[slot.placements[path[t]!]! * placementCount + next.placements[h]!]!;
        if (move >= barrier) continue;
        const sum =
          (slot.stepCosts[at]! + rule.costs[memory]! + move) * values.unit +
          values.unary[t + 1]![h]! +
          on[t + 1]![q * width + h]!;
        if (sum < least) [least, path[t + 1], leads] = [sum, h, q];
      }
    }
    memory = leads;
  }
  return path;
}
