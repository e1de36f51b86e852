// What the solver remembers of the lattices that it solved last, so that the next one costs no more than what is new in it.
import { makeCache, type Cache } from '../../cache';
import { mostKeptBytes, type Chain, type Match } from './checkpointing';
import type { Best, Lattice, LatticeSlot } from './lattice';
import type { Weights } from './boltzmann';

/** A chain with the lattice that it was run over. */
export interface Solved<Value extends object> {
  readonly lattice: Lattice;
  readonly chain: Chain<Value>;
}

/** What goes over all slots or all draws: sums, weights, the path, entropies; then the choice among draws, and bars drawn again. */
export type Pass = 'forward' | 'backward' | 'filter' | 'path' | 'look ahead' | 'choice' | 'repeats';

/** Told how much of a pass is done, from 0 to 1. */
export type WatchPass = (pass: Pass, done: number) => void;

/** A solved lattice and where the slots of a later one stood in it. */
export interface Related<Value extends object> extends Solved<Value> {
  readonly match: Match;
}

/** Lattices that are kept: the last one, a limit laid on and taken off again, and one more. */
const mostSolved = 4;

/** What was solved lately; together no larger than one chain may be. */
export class Recent<Value extends object> {
  readonly #chains: Cache<Lattice, Chain<Value>> = makeCache({
    most: mostKeptBytes,
    sizeOf: ({ bytes }) => bytes,
    mostValues: mostSolved,
  });

  get last(): Solved<Value> | null {
    const [last] = this.arrays;
    return last ?? null;
  }

  get lattices(): readonly Lattice[] {
    return [...this.#chains.keys()];
  }

  /** All of them, the last one first, for whoever counts memory. */
  get arrays(): readonly Solved<Value>[] {
    return [...this.#chains.entries()].map(([lattice, chain]) => ({ lattice, chain }));
  }

  /** Bytes that their chains take. */
  get bytes(): number {
    return this.arrays.reduce((bytes, { chain }) => bytes + chain.bytes, 0);
  }

  /** The one that most slots of a lattice were in; of equals the last. */
  closest(lattice: Lattice): Related<Value> | null {
    let found: Related<Value> | null = null;
    let most = 0;
    for (const solved of this.arrays) {
      const match = matchSlots(solved.lattice, lattice);
      const count = countMatches(match);
      if (found && count <= most) continue;
      found = { ...solved, match };
      most = count;
    }
    return found;
  }

  /** @param related what it grew out of: given up where the new one is much the same */
  add({ lattice, chain }: Solved<Value>, related: Related<Value> | null): void {
    const isEdit = related !== null && 2 * countMatches(related.match) > related.match.length;
    if (isEdit) this.#chains.delete(related.lattice);
    this.#chains.set(lattice, chain);
  }

  clear(): void {
    this.#chains.clear();
  }
}

function countMatches(match: Match): number {
  let count = 0;
  for (const other of match) if (other >= 0) count++;
  return count;
}

/** Handed from lattice to lattice by whoever builds them; see `Lattice.cache`. */
export class SolvedCache {
  /** F_t. */
  readonly forward = new Recent<Int32Array>();
  /** W_t. */
  readonly backward = new Recent<Int32Array>();
  /** Filtered weights, at one temperature: that of `weights`. */
  readonly filtered = new Recent<Float64Array>();
  weights: Weights | null = null;
  /** The best path of the lattice that it was asked of last: whoever lays out a choice asks for it more than once. */
  best: { readonly lattice: Lattice; readonly found: Best | null } | null = null;
  watch: WatchPass = () => undefined;
}

export const emptySolvedCache = (): SolvedCache => new SolvedCache();

/** What the lattice before left, where anybody keeps it. */
export const cacheOf = ({ cache }: Lattice): SolvedCache | undefined =>
  cache instanceof SolvedCache ? cache : undefined;

const numbersEqual = (a: Int32Array | Uint16Array, b: Int32Array | Uint16Array): boolean =>
  a === b || (a.length === b.length && a.every((value, index) => value === b[index]));

const sameRules = (a: LatticeSlot, b: LatticeSlot): boolean =>
  a.rules === b.rules ||
  (a.rules.length === b.rules.length && a.rules.every((rule, k) => rule === b.rules[k]));

/** True when two slots cost the same in every way. */
export const isSameSlot = (a: LatticeSlot, b: LatticeSlot): boolean =>
  a === b ||
  (a.moves.costs === b.moves.costs &&
    a.memoryRows === b.memoryRows &&
    numbersEqual(a.pitches, b.pitches) &&
    numbersEqual(a.placements, b.placements) &&
    numbersEqual(a.groupStart, b.groupStart) &&
    numbersEqual(a.pitchCosts, b.pitchCosts) &&
    numbersEqual(a.placementCosts, b.placementCosts) &&
    numbersEqual(a.stepCosts, b.stepCosts) &&
    sameRules(a, b) &&
    numbersEqual(a.ruleOf, b.ruleOf));

/** Where the slots of a lattice stood in an earlier one; see `Match`. */
export function matchSlots(earlier: Lattice, lattice: Lattice): Match {
  const before = earlier.slots;
  const { slots } = lattice;
  const result = new Int32Array(slots.length).fill(-1);
  const isComparable =
    earlier.placementCount === lattice.placementCount &&
    earlier.memoryCount === lattice.memoryCount &&
    earlier.startMemory === lattice.startMemory;
  if (!isComparable) return result;
  const shift = slots.length - before.length;
  // Counted from the front, and where slots were put in or taken out, the rest from the back.
  let t = 0;
  for (; t < slots.length && t < before.length; t++) {
    if (isSameSlot(slots[t]!, before[t]!)) result[t] = t;
    else if (shift !== 0) break;
  }
  for (let back = slots.length - 1; shift !== 0 && back >= Math.max(t, t + shift); back--) {
    if (!isSameSlot(slots[back]!, before[back - shift]!)) break;
    result[back] = back - shift;
  }
  return result;
}

/** The same seen from the end, for a recursion that runs backwards: its step to a slot also looks at the slot beyond. */
export function mirrored(match: Match, earlierLength: number): Match {
  const last = match.length - 1;
  return match.map((_, place) => {
    const t = last - place;
    const other = match[t]!;
    const isStep = other >= 0 && (t === 0 ? other === 0 : match[t - 1] === other - 1);
    return isStep ? earlierLength - 1 - other : -1;
  });
}

/** Numbers for the steps of a lattice, from slot t to the next: the same number where both slots they look at are the same. */
export function stepNumbers({ slots }: Lattice): Int32Array {
  const numbers = new Map<LatticeSlot | undefined, number>([[undefined, 0]]);
  const numberOf = (slot: LatticeSlot | undefined): number => {
    const found = numbers.get(slot) ?? numbers.size;
    numbers.set(slot, found);
    return found;
  };
  const steps = new Map<string, number>();
  return Int32Array.from({ length: Math.max(0, slots.length - 1) }, (_, t) => {
    const key = [numberOf(slots[t]), numberOf(slots[t + 1])].join();
    const found = steps.get(key) ?? steps.size;
    steps.set(key, found);
    return found;
  });
}
