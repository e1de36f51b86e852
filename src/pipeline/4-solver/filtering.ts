// The weight of all ways into a state: the recursion of forward-messages.ts with weights w = exp(-cost / temperature) and
// sums in place of costs and minima (forward filtering: Rabiner 1989, Proc. IEEE 77; Chib 1996, J. Econometrics 75),
//
//   e(q, h)         = sum over g with next(rule, g) = q of  f_t(g, h) s(rule, g)
//   f_{t+1}(q, h')  = a(h') b(h') sum over b, h of  e(q, h) r_t(b, n) v_t(h, h').
//
// Each slot's message is scaled by its largest entry and its entries are rounded to 26 bits; the scales cancel in every
// choice, and the rounding moves no probability by more than 1e-8. Rounded messages become equal some slots after an edit,
// so a chain can take the rest over. Sums are always taken in the same order: another order would round otherwise.
import { Chain, type Recursion } from './checkpointing';
import { cacheOf, stepNumbers } from './solved-cache';
import { kernelOf } from './kernel/vectors';
import { moveIndex, rowsAt, type Lattice } from './lattice';
import { stateCount, type Filtered } from './messages';
import type { Weights } from './boltzmann';

/** Room for what a step needs while it runs, for the widest slot of a lattice. */
class Workspace {
  /** e: a row for each state reached, in the order in which they were; column: placements of pitch b. */
  readonly ways: Float64Array;
  readonly states: Int32Array;
  readonly rowOf: Int32Array;
  readonly open: Int32Array;
  /** f_{t+1} before it is scaled. */
  readonly weighed: Float64Array;

  constructor(lattice: Lattice) {
    const { slots, memoryCount } = lattice;
    const placements = slots.reduce((most, slot) => Math.max(most, slot.placements.length), 0);
    this.ways = new Float64Array(memoryCount * placements);
    this.states = new Int32Array(memoryCount);
    this.rowOf = new Int32Array(memoryCount).fill(-1);
    this.open = new Int32Array(memoryCount);
    this.weighed = new Float64Array(memoryCount * placements);
  }
}

/** Memory states with any weight at the placements from first to last; returns how many. */
function findOpen(
  filtered: Filtered,
  rows: number,
  width: number,
  first: number,
  last: number,
  open: Int32Array,
): number {
  let count = 0;
  for (let g = 0; g < rows; g++) {
    const row = g * width;
    for (let h = first; h < last; h++) {
      if (!(filtered[row + h]! > 0)) continue;
      open[count++] = g;
      break;
    }
  }
  return count;
}

/** e under one rule; returns the number of rows. */
function gather(
  filtered: Filtered,
  width: number,
  first: number,
  size: number,
  openCount: number,
  next: Uint16Array,
  weights: Float64Array,
  { ways, states, rowOf, open }: Workspace,
): number {
  let count = 0;
  for (let index = 0; index < openCount; index++) {
    const g = open[index]!;
    const weight = weights[g]!;
    if (weight === 0) continue;
    const state = next[g]!;
    const from = g * width + first;
    const known = rowOf[state]!;
    const row = known < 0 ? count++ : known;
    const out = row * size;
    if (known < 0) {
      rowOf[state] = row;
      states[row] = state;
      for (let k = 0; k < size; k++) ways[out + k] = weight * filtered[from + k]!;
    } else {
      for (let k = 0; k < size; k++) ways[out + k] = ways[out + k]! + weight * filtered[from + k]!;
    }
  }
  for (let row = 0; row < count; row++) rowOf[states[row]!] = -1;
  return count;
}

/** f_{t+1}, not yet scaled. */
function sumOut(lattice: Lattice, weights: Weights, t: number, filtered: Filtered, work: Workspace): void {
  const { slots, placementCount } = lattice;
  const rows = rowsAt(lattice, t);
  const { pitches, placements, groupStart, moves, rules, ruleOf } = slots[t]!;
  const { pitches: columns, placements: targets, groupStart: targetStart } = slots[t + 1]!;
  const { steps } = weights.ofSlot(slots[t]!);
  const table = weights.ofTable(moves.costs);
  const { ways, states, weighed, open } = work;
  const width = placements.length;
  const outWidth = targets.length;
  weighed.fill(0, 0, rowsAt(lattice, t + 1) * outWidth);
  for (let b = 0; b < pitches.length; b++) {
    const first = groupStart[b]!;
    const size = groupStart[b + 1]! - first;
    const openCount = findOpen(filtered, rows, width, first, first + size, open);
    if (openCount === 0) continue;
    for (let n = 0; n < columns.length; n++) {
      const step = steps[b * columns.length + n]!;
      if (step === 0) continue;
      const rule = rules[ruleOf[b * columns.length + n]!]!;
      const count = gather(filtered, width, first, size, openCount, rule.next, weights.ofRule(rule), work);
      const start = targetStart[n]!;
      const end = targetStart[n + 1]!;
      for (let row = 0; row < count; row++) {
        const out = states[row]! * outWidth;
        for (let k = 0; k < size; k++) {
          const way = step * ways[row * size + k]!;
          if (way === 0) continue;
          const placement = placements[first + k]!;
          for (let to = start; to < end; to++) {
            const move = table[moveIndex(moves, placementCount, placement, targets[to]!)]!;
            weighed[out + to] = weighed[out + to]! + way * move;
          }
        }
      }
    }
  }
}

/** f_{t+1}: what the slot costs by itself taken in, scaled to a largest entry of 1, rounded. */
function settle(lattice: Lattice, weights: Weights, t: number, { weighed }: Workspace): Filtered {
  const { unary } = weights.ofSlot(lattice.slots[t]!);
  const width = unary.length;
  const result = new Float64Array(stateCount(lattice, t));
  let largest = 0;
  for (let row = 0; row < result.length; row += width) {
    for (let h = 0; h < width; h++) {
      const weight = weighed[row + h]! * unary[h]!;
      result[row + h] = weight;
      if (weight > largest) largest = weight;
    }
  }
  const scale = largest === 0 ? 0 : 1 / largest;
  for (let state = 0; state < result.length; state++) result[state] = rounded(scale * result[state]!);
  return result;
}

/** 2^27 + 1: the product with it, less what it grew by, keeps the upper 26 bits of a number (Veltkamp's splitting). */
const splitter = 134_217_729;

function rounded(value: number): number {
  const product = splitter * value;
  return product - (product - value);
}

/** Equal to the bit. */
function isSameFiltered(a: Filtered, b: Filtered): boolean {
  if (a.length !== b.length) return false;
  for (let state = 0; state < a.length; state++) if (a[state] !== b[state]) return false;
  return true;
}

function startWeights(lattice: Lattice, weights: Weights): Filtered {
  const { unary } = weights.ofSlot(lattice.slots[0]!);
  const result = new Float64Array(stateCount(lattice, 0));
  result.set(unary, lattice.startMemory * unary.length);
  return result;
}

/** f_t at every slot t. @param spacing as for `forwardMessages` */
export function filteredWeights(lattice: Lattice, weights: Weights, spacing?: number): Chain<Filtered> {
  const { slots } = lattice;
  const cache = cacheOf(lattice);
  const kernel = kernelOf(lattice);
  const work = new Workspace(lattice);
  const recursion: Recursion<Filtered> = {
    length: slots.length,
    first: () => startWeights(lattice, weights),
    next: (t, filtered) => {
      if (kernel) return kernel.filter(lattice, weights, t, filtered);
      sumOut(lattice, weights, t, filtered, work);
      return settle(lattice, weights, t + 1, work);
    },
    isSame: isSameFiltered,
    bytesAt: (t) => stateCount(lattice, t) * Float64Array.BYTES_PER_ELEMENT,
    steps: stepNumbers(lattice),
  };
  const earlier = cache?.filtered.closest(lattice) ?? null;
  const chain = new Chain(recursion, earlier, (done) => cache?.watch('filter', done), spacing);
  cache?.filtered.add({ lattice, chain }, earlier);
  return chain;
}
