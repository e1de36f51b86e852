// The first step of forward-messages.ts: ways into a placement gathered by the memory state that a rule leads to,
//
//   G(q, h) = min over g with next(rule, g) = q of  F_t(g, h) + S(rule, g).
//
// A workspace, taken once for a lattice and used at every step: nothing is allocated while a pass runs.
import { barrier, rowsAt, type Lattice, type StepRule } from './lattice';
import type { Sums } from './messages';

export class Gathered {
  /** G: a row for each state reached, in the order in which they were; column: placements of pitch b. */
  readonly ways: Int32Array;
  /** The memory state of each row. */
  readonly states: Int32Array;
  /** Rows in use. */
  count = 0;
  /** Memory states in which some placement of pitch b can be reached. */
  readonly open: Int32Array;
  openCount = 0;
  /** How many sums have been compared so far, for whoever measures. */
  gathered = 0;
  relaxed = 0;
  /** Row of each memory state; -1 for none. */
  readonly #rowOf: Int32Array;

  constructor({ slots, memoryCount }: Lattice) {
    let widest = 0;
    for (const { groupStart } of slots) {
      for (let b = 0; b + 1 < groupStart.length; b++)
        widest = Math.max(widest, groupStart[b + 1]! - groupStart[b]!);
    }
    this.ways = new Int32Array(memoryCount * widest);
    this.states = new Int32Array(memoryCount);
    this.open = new Int32Array(memoryCount);
    this.#rowOf = new Int32Array(memoryCount).fill(-1);
  }

  /** Finds the memory states that are open at pitch b of slot t. */
  findOpen(lattice: Lattice, t: number, b: number, forward: Sums): void {
    const { groupStart, placements } = lattice.slots[t]!;
    const rows = rowsAt(lattice, t);
    const width = placements.length;
    const first = groupStart[b]!;
    const last = groupStart[b + 1]!;
    this.openCount = 0;
    for (let g = 0; g < rows; g++) {
      const row = g * width;
      for (let h = first; h < last; h++) {
        if (forward[row + h]! >= barrier) continue;
        this.open[this.openCount++] = g;
        break;
      }
    }
  }

  /** G under one rule, over the states that `findOpen` found. */
  gather({ slots }: Lattice, t: number, b: number, { next, costs }: StepRule, forward: Sums): void {
    const { groupStart, placements } = slots[t]!;
    const { ways, states, open } = this;
    const width = placements.length;
    const first = groupStart[b]!;
    const size = groupStart[b + 1]! - first;
    for (let row = 0; row < this.count; row++) this.#rowOf[states[row]!] = -1;
    this.count = 0;
    for (let index = 0; index < this.openCount; index++) {
      const g = open[index]!;
      const cost = costs[g]!;
      if (cost >= barrier) continue;
      const state = next[g]!;
      const from = g * width + first;
      let row = this.#rowOf[state]!;
      if (row < 0) {
        row = this.count++;
        this.#rowOf[state] = row;
        states[row] = state;
        const out = row * size;
        for (let k = 0; k < size; k++) ways[out + k] = (forward[from + k]! + cost) | 0;
      } else {
        const out = row * size;
        for (let k = 0; k < size; k++) {
          const sum = (forward[from + k]! + cost) | 0;
          if (sum < ways[out + k]!) ways[out + k] = sum;
        }
      }
      this.gathered += size;
    }
  }
}
