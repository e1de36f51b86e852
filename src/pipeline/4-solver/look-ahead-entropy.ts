// Elbow room: how many good ways on there are from a state.
//
// Paths are drawn with probability proportional to exp(-cost / temperature). From state (g, h) at slot t the next state
// follows p(q, h' | g, h) = w / Z with
//
//   w = s(rule, g) r(b, n) v(h, h') a(h') b(h') beta_{t+1}(q, h'),      q = next(rule, g)
//
// Its entropy is H = log Z - (sum w log w) / Z. What comes later counts less the later it comes (a discounted sum, as the
// value of a Markov reward process: Howard 1960, "Dynamic Programming and Markov Processes"):
//
//   E_t(g, h) = H(g, h) + d sum of p(q, h' | g, h) E_{t+1}(q, h'),      d = 1 - 1 / window
//
// so the slots ahead weigh 1, d, d^2, ..., together `window`. E over the sum of those weights is bits a slot. One message
// a slot is enough for it, where a window with a sharp end needs one for each number of slots looked ahead.
//
// log w is a sum of a part that knows h' and one that knows the rule only, f = s r. With a = a b beta and
//
//   S(q, h) = sum over h' with pitch n of v a
//   M(q, h) = sum over h' with pitch n of v a (log v + log a - d E_{t+1}(q, h'))
//
// taken once for each state q that the rules of a pitch lead to (the two steps of backward-messages.ts again), Z is the sum
// of f S over all rules and pitches, and E = log Z - sum of f (S log f + M) / Z.
import { cacheOf } from './solved-cache';
import { barrier, moveIndex, rowsAt, type Lattice, type StepRule } from './lattice';
import { stateCount, type Onward, type Totals } from './messages';
import { weightsFor } from './sampler';
import type { Weights } from './boltzmann';
import { kernelOf } from './kernel/vectors';
import type { Reached } from './wide-messages';

/** Entropies in bits, row g, column h; 0 in states that no step leads to. */
export type Entropies = Float64Array;

/**
 * By slot and pitch: the memory states that any step leads to from those before, whether the rules allow it or not. Of a
 * note that could not follow the one before it is told, too, what would come after.
 */
function ledTo(lattice: Lattice): Reached {
  const { slots, startMemory } = lattice;
  let open: readonly Int32Array[] = Array.from(slots[0]!.pitches, () => Int32Array.of(startMemory));
  const result = [open];
  for (let t = 0; t + 1 < slots.length; t++) {
    const { rules, ruleOf } = slots[t]!;
    const rows = rowsAt(lattice, t + 1);
    const columns = slots[t + 1]!.pitches.length;
    const isLedTo = new Uint8Array(rows * columns);
    for (let b = 0; b < open.length; b++) {
      for (let n = 0; n < columns; n++) {
        const { next, costs } = rules[ruleOf[b * columns + n]!]!;
        for (const g of open[b]!) {
          const q = next[g]!;
          if (q < rows) isLedTo[n * rows + q] = 1;
          // After a step that may not be made, memory stays where it was (`memoriesOf`).
          if (costs[g]! >= barrier && g < rows) isLedTo[n * rows + g] = 1;
        }
      }
    }
    open = Array.from({ length: columns }, (_, n) => marked(isLedTo.subarray(n * rows, (n + 1) * rows)));
    result.push(open);
  }
  return result;
}

/** Indices of the ones. */
function marked(flags: Uint8Array): Int32Array {
  const indices = new Int32Array(flags.reduce((count, flag) => count + flag, 0));
  for (let index = 0, count = 0; index < flags.length; index++) if (flags[index]) indices[count++] = index;
  return indices;
}

/** Room for one pair of pitches: moves between their placements, and S and M by memory state reached. */
class Workspace {
  /** v and log v, a row for each placement of the pitch. */
  readonly moves: Float64Array;
  readonly moveLogs: Float64Array;
  readonly rowOf: Int32Array;
  readonly #used: Int32Array;
  #count = 0;
  readonly sums: Float64Array;
  readonly worths: Float64Array;

  constructor({ slots, memoryCount }: Lattice) {
    const widest = slots.reduce((most, { placements }) => Math.max(most, placements.length), 0);
    this.moves = new Float64Array(widest * widest);
    this.moveLogs = new Float64Array(widest * widest);
    this.rowOf = new Int32Array(memoryCount).fill(-1);
    this.#used = new Int32Array(memoryCount);
    this.sums = new Float64Array(memoryCount * widest);
    this.worths = new Float64Array(memoryCount * widest);
  }

  /** Forgets the pair before. */
  clear(): void {
    for (let index = 0; index < this.#count; index++) this.rowOf[this.#used[index]!] = -1;
    this.#count = 0;
  }

  /** A row for memory state q. @param size placements of the pitch */
  rowFor(q: number, size: number): number {
    const row = this.#count * size;
    this.#used[this.#count++] = q;
    this.rowOf[q] = row;
    return row;
  }
}

/** A pair of pitches of slots t and t + 1: b with the placements from `first`, n with those from `start` to `end`. */
interface Pair {
  readonly first: number;
  readonly size: number;
  readonly start: number;
  readonly end: number;
}

function layOutMoves(
  lattice: Lattice,
  weights: Weights,
  t: number,
  { first, size, start, end }: Pair,
  work: Workspace,
): void {
  const { placements, moves } = lattice.slots[t]!;
  const { placements: targets } = lattice.slots[t + 1]!;
  const table = weights.ofTable(moves.costs);
  const tableLogs = weights.logsOf(table);
  let index = 0;
  for (let k = 0; k < size; k++) {
    const placement = placements[first + k]!;
    for (let to = start; to < end; to++, index++) {
      const at = moveIndex(moves, lattice.placementCount, placement, targets[to]!);
      work.moves[index] = table[at]!;
      work.moveLogs[index] = tableLogs[at]!;
    }
  }
}

/** S and M of one memory state. @param from where its row begins in `onward` */
function sumAhead(
  { size, start, end }: Pair,
  from: number,
  { weights, worth }: Onward,
  { moves, moveLogs, sums, worths }: Workspace,
  row: number,
): void {
  let index = 0;
  for (let k = 0; k < size; k++) {
    let sum = 0;
    let worthSum = 0;
    for (let to = from + start; to < from + end; to++, index++) {
      const move = moves[index]!;
      const weight = move * weights[to]!;
      sum += weight;
      worthSum += weight * moveLogs[index]! + move * worth[to]!;
    }
    sums[row + k] = sum;
    worths[row + k] = worthSum;
  }
}

/** Adds the ways from pitch b to pitch n under one rule, with its weights and what the step weighs. */
function addPair(
  lattice: Lattice,
  weights: Weights,
  t: number,
  pair: Pair,
  rule: StepRule,
  step: number,
  states: Int32Array,
  onward: Onward,
  work: Workspace,
  totals: Totals,
): void {
  const { first, size } = pair;
  const width = lattice.slots[t]!.placements.length;
  const nextWidth = lattice.slots[t + 1]!.placements.length;
  const nextRows = rowsAt(lattice, t + 1);
  const ruleWeights = weights.ofRule(rule);
  const ruleLogs = weights.logsOf(ruleWeights);
  const stepLog = Math.log(step);
  for (const g of states) {
    const q = rule.next[g]!;
    if (ruleWeights[g] === 0 || q >= nextRows) continue;
    let row = work.rowOf[q]!;
    if (row < 0) {
      row = work.rowFor(q, size);
      sumAhead(pair, q * nextWidth, onward, work, row);
    }
    const factor = ruleWeights[g]! * step;
    const log = ruleLogs[g]! + stepLog;
    const out = g * width + first;
    for (let k = 0; k < size; k++) {
      const sum = work.sums[row + k]!;
      totals.z[out + k] = totals.z[out + k]! + factor * sum;
      totals.worth[out + k] = totals.worth[out + k]! + factor * (sum * log + work.worths[row + k]!);
    }
  }
}

/** Z and the sum beside it, from what is left from slot t + 1 on. */
function totalsOf(
  lattice: Lattice,
  weights: Weights,
  states: readonly Int32Array[],
  t: number,
  onward: Onward,
  work: Workspace,
): Totals {
  const slot = lattice.slots[t]!;
  const { pitches, rules, ruleOf, groupStart } = slot;
  const next = lattice.slots[t + 1]!;
  const columns = next.pitches.length;
  const { steps } = weights.ofSlot(slot);
  const size = stateCount(lattice, t);
  const totals: Totals = { z: new Float64Array(size), worth: new Float64Array(size) };
  for (let b = 0; b < pitches.length; b++) {
    for (let n = 0; n < columns; n++) {
      const at = b * columns + n;
      if (steps[at] === 0) continue;
      const pair: Pair = {
        first: groupStart[b]!,
        size: groupStart[b + 1]! - groupStart[b]!,
        start: next.groupStart[n]!,
        end: next.groupStart[n + 1]!,
      };
      work.clear();
      layOutMoves(lattice, weights, t, pair, work);
      addPair(lattice, weights, t, pair, rules[ruleOf[at]!]!, steps[at]!, states[b]!, onward, work, totals);
    }
  }
  return totals;
}

/** What one slot hands to the one before it, in arrays that are used again. */
class Handing {
  readonly #weights: Float64Array;
  readonly #worth: Float64Array;

  constructor(lattice: Lattice) {
    const most = lattice.slots.reduce((size, _, t) => Math.max(size, stateCount(lattice, t)), 0);
    this.#weights = new Float64Array(most);
    this.#worth = new Float64Array(most);
  }

  /** E of every state of slot t that is led to, by its totals; weights are scaled so that the largest is 1. */
  take(
    lattice: Lattice,
    weights: Weights,
    states: readonly Int32Array[],
    t: number,
    { z, worth }: Totals,
    discount: number,
  ): { readonly entropies: Entropies; readonly onward: Onward } {
    const slot = lattice.slots[t]!;
    const { unary } = weights.ofSlot(slot);
    const unaryLogs = weights.logsOf(unary);
    const width = unary.length;
    const size = stateCount(lattice, t);
    let largest = 0;
    for (let state = 0; state < size; state++) if (z[state]! > largest) largest = z[state]!;
    const scale = largest > 0 ? 1 / largest : 0;
    const scaleLog = largest > 0 ? Math.log(largest) : 0;
    const entropies = new Float64Array(size);
    for (let b = 0; b < states.length; b++) {
      for (const g of states[b]!) {
        for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
          const state = g * width + h;
          const total = z[state]!;
          const log = total > 0 ? Math.log(total) : 0;
          const nats = total > 0 ? log - worth[state]! / total : 0;
          const weight = total * scale * unary[h]!;
          entropies[state] = nats / Math.LN2;
          this.#weights[state] = weight;
          this.#worth[state] = weight * (log - scaleLog + unaryLogs[h]! - discount * nats);
        }
      }
    }
    const onward = { weights: this.#weights.subarray(0, size), worth: this.#worth.subarray(0, size) };
    return { entropies, onward };
  }
}

/** Sum of the weights of so many slots ahead. */
const weightAhead = (slots: number, discount: number): number => (1 - discount ** slots) / (1 - discount);

/**
 * Discounted bits of the slots after slot t, and the sum of the weights they were counted with. Told slot by slot, the last
 * one first: together they would not fit into memory for a long path.
 */
export type VisitRoom = (t: number, bits: Entropies, weight: number) => void;

/**
 * @param window slots looked ahead: what the weights of all slots ahead add up to on an endless path
 * @param unit integer cost units to one natural unit
 */
export function visitRoom(
  lattice: Lattice,
  temperature: number,
  unit: number,
  window: number,
  visit: VisitRoom,
): void {
  const weights = weightsFor(lattice, temperature, unit);
  const last = lattice.slots.length - 1;
  const discount = 1 - 1 / window;
  const states = ledTo(lattice);
  const kernel = kernelOf(lattice);
  const work = new Workspace(lattice);
  const handing = new Handing(lattice);
  const size = stateCount(lattice, last);
  let totals: Totals = { z: new Float64Array(size).fill(1), worth: new Float64Array(size) };
  for (let t = last; t >= 0; t--) {
    const { entropies, onward } = handing.take(lattice, weights, states[t]!, t, totals, discount);
    visit(t, entropies, weightAhead(last - t, discount));
    if (t < last) cacheOf(lattice)?.watch('look ahead', 1 - t / last);
    if (t === 0) return;
    totals =
      kernel?.lookAhead(lattice, weights, states[t - 1]!, t - 1, onward) ??
      totalsOf(lattice, weights, states[t - 1]!, t - 1, onward, work);
  }
}

/** Good choices a slot: the perplexity of bits over the weight they were counted with; 1 when nothing is left to choose. */
export const choicesPerSlot = (bits: number, weight: number): number =>
  weight === 0 ? 1 : 2 ** (bits / weight);
