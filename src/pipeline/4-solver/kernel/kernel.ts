// The inner loops of the messages in vectors (relax.wat), for lattices that bring them (vectors.ts). What comes out
// is what the recursions in plain numbers give, to the bit, and elbow room to rounding; where vectors are refused, those run.
//
// Arrays live in a memory of the kernel's own. From its start: one step's messages, unary costs and rows in between, made over
// for every step; behind them what steps share, copied once: rules, and moves between two pitches (blocks.ts).
import { getOrMake } from '../../../cache';
import {
  barrier,
  infinite,
  rowsAt,
  type Lattice,
  type LatticeSlot,
  type MoveTable,
  type StepRule,
} from '../lattice';
import { unaryCosts, type Filtered, type Onward, type Sums, type Totals } from '../messages';
import type { Weights } from '../boltzmann';
import { relaxBytes } from './relax-bytes';
import { Arena, type Relax } from './arena';
import { Blocks, byCount, countsAfter, laneCount, wholeVectors, type Block } from './blocks';

/** Bytes of what steps share, beyond which all of it is forgotten. */
const mostSharedBytes = 6 * 2 ** 20;

interface RuleAt {
  readonly next: number;
  readonly costs: number;
}

/** Where the arrays of one step are. */
interface Layout {
  /** Placements of a slot, memory states that there is room for. */
  readonly width: number;
  readonly memory: number;
  readonly sums: number;
  readonly result: number;
  /** The second sum of the look ahead, as `sums` and `result`. */
  readonly worth: number;
  readonly worthResult: number;
  readonly unary: number;
  readonly open: number;
}

export class Kernel {
  readonly #arena: Arena;
  readonly #relax: Relax;
  readonly #blocks = new Map<Int32Array | Float64Array, Blocks>();
  readonly #nexts = new Map<Uint16Array, number>();
  readonly #ruleCosts = new Map<Int32Array | Float64Array, number>();
  readonly #wide = new Map<Int32Array, { readonly unit: number; readonly values: Float64Array }>();
  #layout: Layout = {
    width: 0,
    memory: 0,
    sums: 0,
    result: 0,
    worth: 0,
    worthResult: 0,
    unary: 0,
    open: 0,
  };

  readonly #mostShared: number;

  private constructor(arena: Arena, mostShared: number) {
    this.#arena = arena;
    this.#relax = arena.relax;
    this.#mostShared = mostShared;
  }

  /** Null where this machine or page does not let vectors run. @param mostShared bytes of what steps share */
  static make(mostShared: number = mostSharedBytes): Kernel | null {
    const arena = Arena.make(relaxBytes);
    return arena && new Kernel(arena, mostShared);
  }

  get bytes(): number {
    return this.#arena.bytes;
  }

  /** F_{t+1} from F_t; see forward-messages.ts. */
  forward(lattice: Lattice, t: number, before: Sums): Sums {
    const slot = lattice.slots[t]!;
    const next = lattice.slots[t + 1]!;
    const rows = rowsAt(lattice, t + 1);
    const width = next.placements.length;
    this.#begin(lattice, t);
    const { sums, result, unary } = this.#layout;
    const rules = slot.rules.map((rule) => this.#ruleAt(rule, rule.costs));
    const blocks = this.#blocksOf(lattice, slot.moves, slot.moves.costs, infinite);
    this.#arena.ints.set(before, sums / 4);
    this.#arena.ints.set(unaryCosts(next), unary / 4);
    this.#arena.ints.fill(infinite, result / 4, result / 4 + rows * width);
    this.#relax.step(sums, slot.placements.length, rowsAt(lattice, t), result, width, rows);
    forPairs(slot, next, blocks, {
      open: (first, size) => this.#relax.openLeast(first, size),
      pair: (first, size, opened, at, start, { at: block, bytes }) => {
        const { next: to, costs } = rules[slot.ruleOf[at]!]!;
        const wayBytes = 4 * wholeVectors(size);
        const pair = slot.stepCosts[at]!;
        this.#relax.relaxLeast(first, size, wayBytes, opened, to, costs, pair, block, bytes, start);
      },
    });
    this.#relax.addUnary(result, width, rows, unary);
    this.#relax.level(result, rows * width);
    return this.#arena.ints.slice(result / 4, result / 4 + rows * width);
  }

  /** W_t from W_{t+1}; see backward-messages.ts. */
  backward(lattice: Lattice, t: number, after: Sums): Sums {
    const slot = lattice.slots[t]!;
    const next = lattice.slots[t + 1]!;
    const rows = rowsAt(lattice, t);
    const width = slot.placements.length;
    this.#begin(lattice, t);
    const { sums, result, unary } = this.#layout;
    const rules = slot.rules.map((rule) => this.#ruleAt(rule, rule.costs));
    const blocks = this.#blocksOf(lattice, slot.moves, slot.moves.costs, infinite);
    this.#arena.ints.set(after, sums / 4);
    // What is read past the last row must not be less than blocked.
    this.#arena.ints.fill(infinite, sums / 4 + after.length, sums / 4 + after.length + 2 * laneCount);
    this.#arena.ints.set(unaryCosts(next), unary / 4);
    this.#arena.ints.fill(infinite, result / 4, result / 4 + rows * width);
    const rowsAfter = rowsAt(lattice, t + 1);
    this.#relax.addUnary(sums, next.placements.length, rowsAfter, unary);
    this.#relax.step(sums, next.placements.length, rowsAfter, result, width, rows);
    forPairs(slot, next, blocks, {
      open: () => 1,
      pair: (first, size, _opened, at, start, { at: block, bytes }) => {
        const { next: to, costs } = rules[slot.ruleOf[at]!]!;
        const wayBytes = 4 * wholeVectors(size);
        this.#relax.relaxBack(first, size, wayBytes, to, costs, slot.stepCosts[at]!, block, bytes, start);
      },
    });
    this.#relax.level(result, rows * width);
    return this.#arena.ints.slice(result / 4, result / 4 + rows * width);
  }

  /** f_{t+1} from f_t; see filtering.ts. */
  filter(lattice: Lattice, weights: Weights, t: number, before: Filtered): Filtered {
    const slot = lattice.slots[t]!;
    const next = lattice.slots[t + 1]!;
    const rows = rowsAt(lattice, t + 1);
    const width = next.placements.length;
    this.#begin(lattice, t);
    const { sums, result, unary } = this.#layout;
    const { steps } = weights.ofSlot(slot);
    const rules = slot.rules.map((rule) => this.#ruleAt(rule, weights.ofRule(rule)));
    const blocks = this.#blocksOf(lattice, slot.moves, weights.ofTable(slot.moves.costs), 0);
    this.#arena.floats.set(before, sums / 8);
    this.#arena.floats.set(weights.ofSlot(next).unary, unary / 8);
    this.#arena.floats.fill(0, result / 8, result / 8 + rows * width);
    this.#relax.step(sums, slot.placements.length, rowsAt(lattice, t), result, width, rows);
    forPairs(slot, next, blocks, {
      open: (first, size) => this.#relax.openWeights(first, size),
      pair: (first, size, opened, at, start, { at: block, bytes }) => {
        if (steps[at] === 0) return;
        const { next: to, costs } = rules[slot.ruleOf[at]!]!;
        const wayBytes = 8 * wholeVectors(size);
        this.#relax.addWeights(first, size, wayBytes, opened, to, costs, steps[at]!, block, bytes, start);
      },
    });
    this.#relax.settleWeights(result, width, rows, unary);
    return this.#arena.floats.slice(result / 8, result / 8 + rows * width);
  }

  /**
   * W_t in doubles; see wide-messages.ts.
   * @param reached by pitch of slot t: its memory states
   * @param ahead what is left from slot t + 1 on, that slot taken in
   */
  wide(
    lattice: Lattice,
    reached: readonly Int32Array[],
    unit: number,
    t: number,
    ahead: Float64Array,
  ): Float64Array {
    const slot = lattice.slots[t]!;
    const next = lattice.slots[t + 1]!;
    const rows = rowsAt(lattice, t);
    const width = slot.placements.length;
    this.#begin(lattice, t);
    const { sums, result, open } = this.#layout;
    const rules = slot.rules.map((rule) => this.#ruleAt(rule, this.#widened(rule.costs, unit)));
    const blocks = this.#blocksOf(lattice, slot.moves, this.#widened(slot.moves.costs, unit), Infinity);
    this.#arena.floats.set(ahead, sums / 8);
    this.#arena.floats.fill(Infinity, sums / 8 + ahead.length, sums / 8 + ahead.length + 2 * laneCount);
    this.#arena.floats.fill(Infinity, result / 8, result / 8 + rows * width);
    this.#relax.step(sums, next.placements.length, rowsAt(lattice, t + 1), result, width, rows);
    forPairs(slot, next, blocks, {
      open: (_first, _size, b) => {
        this.#arena.ints.set(reached[b]!, open / 4);
        return reached[b]!.length;
      },
      pair: (first, size, opened, at, start, { at: block, bytes }) => {
        const { next: to, costs } = rules[slot.ruleOf[at]!]!;
        const wayBytes = 8 * wholeVectors(size);
        const pair = slot.stepCosts[at]! * unit;
        this.#relax.relaxWide(first, size, wayBytes, opened, to, costs, pair, block, bytes, start);
      },
    });
    return this.#arena.floats.slice(result / 8, result / 8 + rows * width);
  }

  /**
   * Z and the sum beside it; see look-ahead-entropy.ts.
   * @param states by pitch of slot t: the memory states that are wanted
   */
  lookAhead(
    lattice: Lattice,
    weights: Weights,
    states: readonly Int32Array[],
    t: number,
    onward: Onward,
  ): Totals {
    const slot = lattice.slots[t]!;
    const next = lattice.slots[t + 1]!;
    const rows = rowsAt(lattice, t);
    const width = slot.placements.length;
    this.#begin(lattice, t);
    const { sums, result, worth, worthResult, open } = this.#layout;
    const { steps } = weights.ofSlot(slot);
    const rules = slot.rules.map((rule) => {
      const ofRule = weights.ofRule(rule);
      return { ...this.#ruleAt(rule, ofRule), logs: this.#costsAt(weights.logsOf(ofRule)) };
    });
    const stepLogs = weights.logsOf(steps);
    const table = weights.ofTable(slot.moves.costs);
    const logs = weights.logsOf(table);
    const blocks = getOrMake(
      this.#blocks,
      logs,
      () => new Blocks(this.#arena, [table, logs], { ...lattice, blocked: 0, moves: slot.moves }),
    );
    for (const [at, numbers] of [
      [sums, onward.weights],
      [worth, onward.worth],
    ] as const) {
      this.#arena.floats.set(numbers, at / 8);
      // What is read past the last row is multiplied by a move that weighs nothing.
      this.#arena.floats.fill(0, at / 8 + numbers.length, at / 8 + numbers.length + 2 * laneCount);
    }
    for (const at of [result, worthResult]) this.#arena.floats.fill(0, at / 8, at / 8 + rows * width);
    this.#relax.step(sums, next.placements.length, rowsAt(lattice, t + 1), result, width, rows);
    forPairs(slot, next, blocks, {
      open: (_first, _size, b) => {
        this.#arena.ints.set(states[b]!, open / 4);
        return states[b]!.length;
      },
      pair: (first, size, opened, at, start, { at: block, bytes }) => {
        if (steps[at] === 0) return;
        const { next: to, costs, logs: ruleLogs } = rules[slot.ruleOf[at]!]!;
        const wayBytes = 8 * wholeVectors(size);
        const step = steps[at]!;
        this.#relax.addAhead(
          first,
          size,
          wayBytes,
          opened,
          to,
          costs,
          ruleLogs,
          step,
          stepLogs[at]!,
          block,
          bytes,
          start,
        );
      },
    });
    return {
      z: this.#arena.floats.subarray(result / 8, result / 8 + rows * width),
      worth: this.#arena.floats.subarray(worthResult / 8, worthResult / 8 + rows * width),
    };
  }

  /** Costs in a unit, as doubles. */
  #widened(costs: Int32Array, unit: number): Float64Array {
    const known = this.#wide.get(costs);
    if (known?.unit === unit) return known.values;
    const values = Float64Array.from(costs, (cost) => (cost >= barrier ? Infinity : cost * unit));
    this.#wide.set(costs, { unit, values });
    return values;
  }

  /** Makes room for the step from slot t to the next. */
  #begin({ memoryCount, slots }: Lattice, t: number): void {
    const width = Math.max(slots[t]!.placements.length, slots[t + 1]!.placements.length);
    const isRoom = width <= this.#layout.width && memoryCount <= this.#layout.memory;
    if (isRoom && this.#arena.shared <= this.#mostShared) return;
    this.#layOut(Math.max(width, this.#layout.width), Math.max(memoryCount, this.#layout.memory));
  }

  #layOut(width: number, memory: number): void {
    this.#blocks.clear();
    this.#nexts.clear();
    this.#ruleCosts.clear();
    this.#wide.clear();
    this.#arena.clear();
    // Rows are read and written past their end, by less than a row of whole vectors.
    const numbers = memory * width + 2 * laneCount;
    const [sums, result, worth, worthResult] = [0, 0, 0, 0].map(() => this.#arena.take(8 * numbers)) as [
      number,
      number,
      number,
      number,
    ];
    const ways = this.#arena.take(8 * memory * wholeVectors(width));
    const worthWays = this.#arena.take(8 * memory * wholeVectors(width));
    const unary = this.#arena.take(8 * width);
    const [states, rowOf, open] = [0, 0, 0].map(() => this.#arena.take(4 * memory)) as [
      number,
      number,
      number,
    ];
    this.#arena.ints.fill(-1, rowOf / 4, rowOf / 4 + memory);
    this.#relax.workspace(ways, states, rowOf, open);
    this.#relax.worthWorkspace(worth, worthResult, worthWays);
    this.#arena.share();
    this.#layout = { width, memory, sums, result, worth, worthResult, unary, open };
  }

  #ruleAt(rule: StepRule, costs: Int32Array | Float64Array): RuleAt {
    return {
      next: getOrMake(this.#nexts, rule.next, () => this.#arena.copy(rule.next)),
      costs: this.#costsAt(costs),
    };
  }

  #costsAt(costs: Int32Array | Float64Array): number {
    return getOrMake(this.#ruleCosts, costs, () => this.#arena.copy(costs));
  }

  /**
   * Moves between two pitches, laid side by side when they are first asked for.
   * @param table their costs or weights
   * @param blocked what fills the rows up
   */
  #blocksOf(
    { placementCount }: Lattice,
    moves: MoveTable,
    table: Int32Array | Float64Array,
    blocked: number,
  ): Blocks {
    const make = (): Blocks => new Blocks(this.#arena, [table], { placementCount, blocked, moves });
    return getOrMake(this.#blocks, table, make);
  }
}

interface Pairs {
  /** How many memory states are open at the placements of a pitch. */
  readonly open: (first: number, size: number, b: number) => number;
  /** One step: its cell, and where the moves and the columns of the pitch that it leads to begin. */
  readonly pair: (
    first: number,
    size: number,
    opened: number,
    at: number,
    start: number,
    block: Block,
  ) => void;
}

/** All steps from pitch b to pitch n that may be made, by the counts of their placements. */
function forPairs(slot: LatticeSlot, next: LatticeSlot, blocks: Blocks, { open, pair }: Pairs): void {
  const targets = blocks.spansOf(next).map(byCount);
  blocks.spansOf(slot).forEach((spans, b) => {
    for (const from of spans) {
      const size = from.end - from.first;
      const opened = open(from.first, size, b);
      if (opened === 0) continue;
      const counts = countsAfter(from.count);
      for (let n = 0; n < targets.length; n++) {
        const at = b * targets.length + n;
        if (slot.stepCosts[at]! >= barrier) continue;
        for (const count of counts) {
          const to = targets[n]![count];
          if (!to) continue;
          const block = blocks.between(slot, from, next, to);
          pair(from.first, size, opened, at, to.first, block);
        }
      }
    }
  });
}
