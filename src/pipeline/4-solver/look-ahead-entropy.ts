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
// log w is a sum of a part that knows h' and one that knows the rule only, so all sums over h' are taken once for each state
// the rules of a pitch lead to: the two steps of backward-messages.ts again.
import { cacheOf } from './solved-cache';
import { moveIndex, rowsAt, type Lattice, type StepRule } from './lattice';
import { stateCount } from './messages';
import { weightsFor } from './sampler';
import { scaleToOne, type Weights } from './boltzmann';

/** Entropies in bits, row g, column h. */
export type Entropies = Float64Array;

/** What the slots from t on know. */
interface Ahead {
  /** Weight of all that follows. */
  readonly beta: Float64Array;
  /** E, in bits. */
  readonly entropies: Entropies;
}

const logarithms = (weights: Float64Array): Float64Array =>
  weights.map((weight) => (weight > 0 ? Math.log(weight) : 0));

/** Logarithms of tables of weights, made once for a table. */
class Logs {
  readonly #known = new Map<Float64Array, Float64Array>();

  of(weights: Float64Array): Float64Array {
    const found = this.#known.get(weights);
    if (found) return found;
    const made = logarithms(weights);
    this.#known.set(weights, made);
    return made;
  }
}

/** By state of the next slot: weight with what the slot costs by itself, its logarithm, E. */
interface Following {
  readonly weights: Float64Array;
  readonly logs: Float64Array;
  readonly entropies: Float64Array;
}

/** Sums over the h' of one pitch for the h of another, by memory state reached: weights, weights times their logarithm, times E. */
class Workspace {
  readonly rowOf: Int32Array;
  readonly used: Int32Array;
  count = 0;
  readonly weight: Float64Array;
  readonly weightLog: Float64Array;
  readonly entropy: Float64Array;

  constructor(memoryCount: number, placements: number) {
    this.rowOf = new Int32Array(memoryCount).fill(-1);
    this.used = new Int32Array(memoryCount);
    this.weight = new Float64Array(memoryCount * placements);
    this.weightLog = new Float64Array(memoryCount * placements);
    this.entropy = new Float64Array(memoryCount * placements);
  }

  clear(): void {
    for (let index = 0; index < this.count; index++) this.rowOf[this.used[index]!] = -1;
    this.count = 0;
  }
}

function sumAhead(
  lattice: Lattice,
  weights: Weights,
  logs: Logs,
  t: number,
  b: number,
  n: number,
  q: number,
  following: Following,
  work: Workspace,
): number {
  const { placements, groupStart, moves } = lattice.slots[t]!;
  const { placements: targets, groupStart: targetStart } = lattice.slots[t + 1]!;
  const table = weights.ofTable(moves.costs);
  const tableLogs = logs.of(table);
  const size = groupStart[b + 1]! - groupStart[b]!;
  const row = work.count * size;
  work.used[work.count++] = q;
  work.rowOf[q] = row;
  const from = q * targets.length;
  const start = targetStart[n]!;
  const end = targetStart[n + 1]!;
  for (let k = 0; k < size; k++) {
    const placement = placements[groupStart[b]! + k]!;
    let total = 0;
    let totalLog = 0;
    let later = 0;
    for (let to = start; to < end; to++) {
      const at = moveIndex(moves, lattice.placementCount, placement, targets[to]!);
      const one = table[at]! * following.weights[from + to]!;
      total += one;
      totalLog += one * (tableLogs[at]! + following.logs[from + to]!);
      later += one * following.entropies[from + to]!;
    }
    work.weight[row + k] = total;
    work.weightLog[row + k] = totalLog;
    work.entropy[row + k] = later;
  }
  return row;
}

/** Sums over all ways on, by state: Z, sum of w log w, sum of w E. */
interface Totals {
  readonly z: Float64Array;
  readonly weightLog: Float64Array;
  readonly later: Float64Array;
}

function addRule(
  lattice: Lattice,
  t: number,
  b: number,
  { next }: StepRule,
  ruleWeights: Float64Array,
  ruleLogs: Float64Array,
  step: number,
  stepLog: number,
  rowFor: (q: number) => number,
  { weight, weightLog, entropy }: Workspace,
  totals: Totals,
): void {
  const { placements, groupStart } = lattice.slots[t]!;
  const first = groupStart[b]!;
  const size = groupStart[b + 1]! - first;
  const rows = rowsAt(lattice, t);
  for (let g = 0; g < rows; g++) {
    if (ruleWeights[g] === 0) continue;
    const factor = ruleWeights[g]! * step;
    const log = ruleLogs[g]! + stepLog;
    const row = rowFor(next[g]!);
    const out = g * placements.length + first;
    for (let k = 0; k < size; k++) {
      const own = weight[row + k]!;
      totals.z[out + k] = totals.z[out + k]! + factor * own;
      totals.weightLog[out + k] = totals.weightLog[out + k]! + factor * (weightLog[row + k]! + own * log);
      totals.later[out + k] = totals.later[out + k]! + factor * entropy[row + k]!;
    }
  }
}

function stepBack(
  lattice: Lattice,
  weights: Weights,
  logs: Logs,
  t: number,
  after: Ahead,
  discount: number,
  work: Workspace,
): Ahead {
  const { pitches, rules, ruleOf } = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const columns = next.pitches.length;
  const { steps } = weights.ofSlot(lattice.slots[t]!);
  const { unary } = weights.ofSlot(next);
  const width = unary.length;
  const ahead = after.beta.map((weight, state) => weight * unary[state % width]!);
  const following: Following = { weights: ahead, logs: logarithms(ahead), entropies: after.entropies };
  const size = stateCount(lattice, t);
  const totals: Totals = {
    z: new Float64Array(size),
    weightLog: new Float64Array(size),
    later: new Float64Array(size),
  };
  for (let b = 0; b < pitches.length; b++) {
    for (let n = 0; n < columns; n++) {
      const step = steps[b * columns + n]!;
      if (step === 0) continue;
      const rule = rules[ruleOf[b * columns + n]!]!;
      const ruleWeights = weights.ofRule(rule);
      work.clear();
      const rowFor = (q: number): number =>
        work.rowOf[q]! >= 0 ? work.rowOf[q]! : sumAhead(lattice, weights, logs, t, b, n, q, following, work);
      addRule(
        lattice,
        t,
        b,
        rule,
        ruleWeights,
        logs.of(ruleWeights),
        step,
        Math.log(step),
        rowFor,
        work,
        totals,
      );
    }
  }
  const { z, weightLog, later } = totals;
  const entropies = z.map((total, state) =>
    total === 0
      ? 0
      : (Math.log(total) - weightLog[state]! / total) / Math.LN2 + (discount * later[state]!) / total,
  );
  scaleToOne(z);
  return { beta: z, entropies };
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
  const { slots, memoryCount } = lattice;
  const last = slots.length - 1;
  const discount = 1 - 1 / window;
  const logs = new Logs();
  const widest = slots.reduce((most, { placements }) => Math.max(most, placements.length), 0);
  const work = new Workspace(memoryCount, widest);
  const size = stateCount(lattice, last);
  let ahead: Ahead = { beta: new Float64Array(size).fill(1), entropies: new Float64Array(size) };
  visit(last, ahead.entropies, 0);
  for (let t = last - 1; t >= 0; t--) {
    ahead = stepBack(lattice, weights, logs, t, ahead, discount, work);
    visit(t, ahead.entropies, weightAhead(last - t, discount));
    cacheOf(lattice)?.watch('look ahead', 1 - t / last);
  }
}

/** Good choices a slot: the perplexity of bits over the weight they were counted with; 1 when nothing is left to choose. */
export const choicesPerSlot = (bits: number, weight: number): number =>
  weight === 0 ? 1 : 2 ** (bits / weight);
