// One draw of a path, step by step from the last slot back, each state given the one after it (forward filtering, backward
// sampling: Carter & Kohn 1994, Biometrika 81). Which number is used at which slot is fixed beforehand, so a step can be
// tried for every state that may come to be drawn: each gives what it would give if the path came through it.
import type { Filtered } from './messages';
import { moveIndex, pitchAt, rowsAt, type Lattice, type StepRule } from './lattice';
import type { Weights } from './boltzmann';

/** An index with probability proportional to its weight, by a number from 0 up to 1; -1 when all weights are 0. */
function indexBy(number: number, weights: ArrayLike<number>, count: number): number {
  let total = 0;
  for (let index = 0; index < count; index++) total += weights[index]!;
  let rest = number * total;
  let last = -1;
  for (let index = 0; index < count; index++) {
    const weight = weights[index]!;
    if (weight === 0) continue;
    last = index;
    rest -= weight;
    if (rest < 0) return index;
  }
  return last;
}

/** By rule: the memory states that lead to each memory state. */
export class Sources {
  readonly #known = new Map<StepRule, readonly (readonly number[])[]>();

  of(rule: StepRule): readonly (readonly number[])[] {
    const found = this.#known.get(rule);
    if (found) return found;
    const made: number[][] = Array.from(rule.next, () => []);
    rule.next.forEach((state, g) => made[state]!.push(g));
    this.#known.set(rule, made);
    return made;
  }
}

export class Draw {
  readonly #lattice: Lattice;
  readonly #weights: Weights;
  readonly #sources: Sources;
  readonly #random: () => number;
  /** Weights of the states that may come before, and which they are. */
  readonly #tried: number[] = [];
  readonly #states: number[] = [];
  #numbers: Float64Array | null = null;

  constructor(lattice: Lattice, weights: Weights, sources: Sources, random: () => number) {
    this.#lattice = lattice;
    this.#weights = weights;
    this.#sources = sources;
    this.#random = random;
  }

  /** The state of the last slot; -1 when none has any weight. */
  last(filtered: Filtered): number {
    return indexBy(this.#number(this.#lattice.slots.length - 1), filtered, filtered.length);
  }

  /** The state (g, h) of slot t that stands before a state (q, to) of slot t + 1. */
  before(t: number, filtered: Filtered, state: number): number {
    const { slots, placementCount } = this.#lattice;
    const { pitches, placements, groupStart, moves, rules, ruleOf } = slots[t]!;
    const next = slots[t + 1]!;
    const to = state % next.placements.length;
    const q = Math.floor(state / next.placements.length);
    const n = pitchAt(next, to);
    const columns = next.pitches.length;
    const width = placements.length;
    const { steps } = this.#weights.ofSlot(slots[t]!);
    const table = this.#weights.ofTable(moves.costs);
    const target = next.placements[to]!;
    let count = 0;
    for (let b = 0; b < pitches.length; b++) {
      const step = steps[b * columns + n]!;
      if (step === 0) continue;
      const rule = rules[ruleOf[b * columns + n]!]!;
      const sources = this.#sources.of(rule)[q]!;
      if (sources.length === 0) continue;
      const rows = rowsAt(this.#lattice, t);
      const ruleWeights = this.#weights.ofRule(rule);
      for (let h = groupStart[b]!; h < groupStart[b + 1]!; h++) {
        const move = table[moveIndex(moves, placementCount, placements[h]!, target)]!;
        if (move === 0) continue;
        for (const g of sources) {
          if (g >= rows) continue;
          const before = filtered[g * width + h]!;
          if (before === 0) continue;
          this.#tried[count] = before * ruleWeights[g]! * step * move;
          this.#states[count++] = g * width + h;
        }
      }
    }
    const index = indexBy(this.#number(t), this.#tried, count);
    return index < 0 ? -1 : this.#states[index]!;
  }

  /** One for each slot; all of them drawn, the last slot's first, when the first one is needed. */
  #number(t: number): number {
    this.#numbers ??= Float64Array.from({ length: this.#lattice.slots.length }, this.#random).reverse();
    return this.#numbers[t]!;
  }
}
