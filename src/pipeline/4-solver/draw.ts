// One draw of a path, step by step from the last slot back. Which number is used at which slot is fixed beforehand, so a step
// can be tried for every state that may come to be drawn: each gives what it would give if the path came through it.
import type { Filtered } from './filter';
import { pitchAt, type Lattice } from './lattice';
import { turnStarts } from './sums';
import type { StepBack } from './trail';
import type { Weights } from './weights';

/** An index with probability proportional to its weight, by a number from 0 up to 1; -1 when all weights are 0. */
function indexBy(number: number, weights: Float64Array): number {
  let total = 0;
  for (let index = 0; index < weights.length; index++) total += weights[index]!;
  if (!(total > 0)) return -1;
  let rest = number * total;
  let last = -1;
  for (let index = 0; index < weights.length; index++) {
    const weight = weights[index]!;
    if (weight === 0) continue;
    last = index;
    rest -= weight;
    if (rest < 0) return index;
  }
  return last;
}

/** What all states of one pitch b and next pitch n have in common at a slot. */
interface Through {
  readonly t: number;
  readonly b: number;
  readonly n: number;
  /** By m: the weight of the turn. The step weight is common to all of them. */
  readonly turns: Float64Array;
  /** By the h of b: weight of all ways to it, turn included. */
  readonly sums: Float64Array;
  /** The same, weighed by the move to one placement. */
  readonly moved: Float64Array;
  /** By the h of b: the m drawn for it; -1 where none has been yet. */
  readonly drawn: Int32Array;
}

export class Draw implements StepBack<Filtered> {
  readonly #lattice: Lattice;
  readonly #weights: Weights;
  readonly #random: () => number;
  #numbers: Float64Array | null = null;
  #through: Through | null = null;

  constructor(lattice: Lattice, weights: Weights, random: () => number) {
    this.#lattice = lattice;
    this.#weights = weights;
    this.#random = random;
  }

  /** The state of the last slot; -1 when none has any weight. */
  last(filtered: Filtered): number {
    return filtered.some((weight) => weight > 0) ? indexBy(this.#number(0), filtered) : -1;
  }

  *open(_t: number, filtered: Filtered): Iterable<number> {
    for (let state = 0; state < filtered.length; state++) if (filtered[state]! > 0) yield state;
  }

  /** The state (m, h) of slot t that stands before a state (b, to) of slot t + 1: h first, then m. */
  before(t: number, filtered: Filtered, state: number): number {
    const { slots, placementCount } = this.#lattice;
    const { placements, groupStart, moves } = slots[t]!;
    const next = slots[t + 1]!;
    const to = state % next.placements.length;
    const b = Math.floor(state / next.placements.length);
    const through = this.#throughOf(t, filtered, b, pitchAt(next, to));
    const { sums, moved, drawn } = through;
    const table = this.#weights.ofTable(moves.costs);
    const target = next.placements[to]!;
    const start = groupStart[b]!;
    for (let index = 0; index < sums.length; index++) {
      moved[index] = table[placements[start + index]! * placementCount + target]! * sums[index]!;
    }
    const first = 1 + 2 * (slots.length - 2 - t);
    const index = indexBy(this.#number(first), moved);
    const h = start + index;
    if (drawn[index]! < 0) drawn[index] = this.#rowOf(through, filtered, placements.length, h, first + 1);
    return drawn[index]! * placements.length + h;
  }

  /** The m before placement h. @param number index of the number to draw it by */
  #rowOf({ turns }: Through, filtered: Filtered, width: number, h: number, number: number): number {
    const byRow = new Float64Array(turns.length);
    for (let m = 0; m < turns.length; m++) byRow[m] = turns[m]! * filtered[m * width + h]!;
    return indexBy(this.#number(number), byRow);
  }

  #throughOf(t: number, filtered: Filtered, b: number, n: number): Through {
    const known = this.#through;
    if (known?.t === t && known.b === b && known.n === n) return known;
    const { slots } = this.#lattice;
    const { placements, groupStart } = slots[t]!;
    const turns = this.#turnsInto(t, b, slots[t + 1]!.pitches[n]!);
    const start = groupStart[b]!;
    const sums = new Float64Array(groupStart[b + 1]! - start);
    for (let index = 0; index < sums.length; index++) {
      let sum = 0;
      for (let m = 0; m < turns.length; m++) {
        sum += turns[m]! * filtered[m * placements.length + start + index]!;
      }
      sums[index] = sum;
    }
    const moved = new Float64Array(sums.length);
    const drawn = new Int32Array(sums.length).fill(-1);
    this.#through = { t, b, n, turns, sums, moved, drawn };
    return this.#through;
  }

  #turnsInto(t: number, b: number, coordinate: number): Float64Array {
    if (t === 0) return Float64Array.of(1);
    const table = this.#weights.ofTable(this.#lattice.turnCosts);
    const starts = turnStarts(this.#lattice, t, b);
    const result = new Float64Array(starts.length);
    for (let m = 0; m < starts.length; m++) result[m] = table[starts[m]! + coordinate]!;
    return result;
  }

  /** One for the last slot, then two for each slot from there back; all of them drawn when the first one is needed. */
  #number(index: number): number {
    this.#numbers ??= Float64Array.from({ length: 2 * this.#lattice.slots.length - 1 }, this.#random);
    return this.#numbers[index]!;
  }
}
