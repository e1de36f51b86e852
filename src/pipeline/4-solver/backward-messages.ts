// The least cost of every way on from a state, by the mirror image of forward-messages.ts:
//
//   K(q, h)    = min over h' with pitch n of  V_t(h, h') + A(h') + B(h') + W_{t+1}(q, h')
//   W_t(g, h)  = min over n of                S(rule, g) + R_t(b, n) + K(next(rule, g), h),       b = pitch of h
import { Chain, type Recursion } from './checkpointing';
import { barrier, clamp, infinite, moveIndex, rowsAt, type Lattice, type StepRule } from './lattice';
import { cacheOf, mirrored, stepNumbers } from './solved-cache';
import { kernelOf } from './kernel/vectors';
import { isSameSums, levelled, stateCount, unaryCosts, type Sums } from './messages';

/** Room for K under one rule. */
class Workspace {
  readonly #rows: Int32Array;
  readonly #rowOf: Int32Array;
  readonly #used: Int32Array;
  #count = 0;
  #size = 0;

  constructor(memoryCount: number, widest: number) {
    this.#rows = new Int32Array(memoryCount * widest);
    this.#rowOf = new Int32Array(memoryCount).fill(-1);
    this.#used = new Int32Array(memoryCount);
  }

  /** Forgets the rows of the step before. @param size placements of pitch b */
  clear(size: number): void {
    for (let index = 0; index < this.#count; index++) this.#rowOf[this.#used[index]!] = -1;
    this.#count = 0;
    this.#size = size;
  }

  /** Where the row of memory state q begins, worked out when it is first asked for. */
  rowOf(q: number, lattice: Lattice, t: number, b: number, n: number, ahead: Sums): number {
    const known = this.#rowOf[q]!;
    if (known >= 0) return known;
    const row = this.#count * this.#size;
    this.#used[this.#count++] = q;
    this.#rowOf[q] = row;
    const { placements, groupStart, moves } = lattice.slots[t]!;
    const { placements: targets, groupStart: targetStart } = lattice.slots[t + 1]!;
    const from = q * targets.length;
    const end = targetStart[n + 1]!;
    for (let k = 0; k < this.#size; k++) {
      const placement = placements[groupStart[b]! + k]!;
      let least = infinite;
      for (let to = targetStart[n]!; to < end; to++) {
        const move = moves.costs[moveIndex(moves, lattice.placementCount, placement, targets[to]!)]!;
        const sum = (move + ahead[from + to]!) | 0;
        if (sum < least) least = sum;
      }
      this.#rows[row + k] = least;
    }
    return row;
  }

  get rows(): Int32Array {
    return this.#rows;
  }
}

/** Lowers W_t at the placements of pitch b by the ways through one pitch of the next slot. */
function lower(
  lattice: Lattice,
  t: number,
  b: number,
  n: number,
  { next, costs }: StepRule,
  step: number,
  ahead: Sums,
  work: Workspace,
  result: Sums,
): void {
  const { groupStart, placements } = lattice.slots[t]!;
  const first = groupStart[b]!;
  const size = groupStart[b + 1]! - first;
  work.clear(size);
  const rows = rowsAt(lattice, t);
  const nextRows = rowsAt(lattice, t + 1);
  for (let g = 0; g < rows; g++) {
    // A state that the next slot cannot be in is no way on, as in the forward pass.
    if (costs[g]! >= barrier || next[g]! >= nextRows) continue;
    const cost = costs[g]! + step;
    const row = work.rowOf(next[g]!, lattice, t, b, n, ahead);
    const out = g * placements.length + first;
    for (let k = 0; k < size; k++) {
      const sum = (work.rows[row + k]! + cost) | 0;
      if (sum < result[out + k]!) result[out + k] = sum;
    }
  }
}

/** W_t from W_{t+1}. */
function step(lattice: Lattice, t: number, after: Sums, work: Workspace): Sums {
  const { pitches, stepCosts, ruleOf, rules } = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const columns = next.pitches.length;
  const unary = unaryCosts(next);
  const width = unary.length;
  const ahead = after.map((sum, state) => clamp(sum + unary[state % width]!));
  const result = new Int32Array(stateCount(lattice, t)).fill(infinite);
  for (let b = 0; b < pitches.length; b++) {
    for (let n = 0; n < columns; n++) {
      const at = b * columns + n;
      if (stepCosts[at]! >= barrier) continue;
      lower(lattice, t, b, n, rules[ruleOf[at]!]!, stepCosts[at]!, ahead, work, result);
    }
  }
  return levelled(result);
}

const widestGroup = ({ slots }: Lattice): number =>
  slots.reduce(
    (most, { groupStart }) =>
      groupStart.reduce((wide, start, b) => Math.max(wide, start - (groupStart[b - 1] ?? start)), most),
    0,
  );

/** W_t at place T - 1 - t, from the last slot back: nothing is left to pay after it. @param spacing as for `forwardMessages` */
export function backwardMessages(lattice: Lattice, spacing?: number): Chain<Sums> {
  const { slots } = lattice;
  const cache = cacheOf(lattice);
  const last = slots.length - 1;
  const kernel = kernelOf(lattice);
  const work = new Workspace(lattice.memoryCount, widestGroup(lattice));
  const recursion: Recursion<Sums> = {
    length: slots.length,
    first: () => new Int32Array(stateCount(lattice, last)),
    next: (place, sums) =>
      kernel?.backward(lattice, last - place - 1, sums) ?? step(lattice, last - place - 1, sums, work),
    isSame: isSameSums,
    bytesAt: (place) => stateCount(lattice, last - place) * Int32Array.BYTES_PER_ELEMENT,
    steps: stepNumbers(lattice).reverse(),
  };
  const related = cache?.backward.closest(lattice) ?? null;
  const earlier = related && {
    chain: related.chain,
    match: mirrored(related.match, related.chain.length),
  };
  const chain = new Chain(recursion, earlier, (done) => cache?.watch('backward', done), spacing);
  cache?.backward.add({ lattice, chain }, related);
  return chain;
}
