// Moves from the placements of one pitch to those of another, laid side by side: a row for each of the first, filled up to whole
// vectors with moves that are blocked. Pitches are offered with the same placements in most slots: a block serves all of them.
// Where placements carry a count (lattice.ts), it serves all counts, too.
import { kindOf, moveIndex, type Counted, type LatticeSlot, type MoveTable } from '../lattice';
import type { Arena } from './arena';

/** Numbers to a row come in so many: two vectors of costs, four of weights. */
export const lanes = 8;
export const wholeVectors = (count: number): number => Math.ceil(count / lanes) * lanes;

export interface Block {
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly at: number;
  /** Of one row. */
  readonly bytes: number;
}

/** What blocks are made of. */
interface BlocksOf {
  readonly placementCount: number;
  /** A move that is never made, in the table's numbers. */
  readonly blocked: number;
  readonly moves: MoveTable;
}

/** Placements of one pitch of a slot that carry one count: places in its list. */
export interface Span {
  readonly first: number;
  readonly end: number;
  readonly count: number;
}

/** By pitch: all its placements, or those of each count by themselves. */
export function spansOf(
  { placements, groupStart, pitches }: LatticeSlot,
  counted?: Counted,
): readonly Span[][] {
  const countOf = (k: number): number => (counted ? counted.count[placements[k]!]! : 0);
  return Array.from(pitches, (_, pitch) => {
    const spans: Span[] = [];
    const last = groupStart[pitch + 1]!;
    for (let first = groupStart[pitch]!, end = first; first < last; first = end) {
      const count = countOf(first);
      while (end < last && countOf(end) === count) end++;
      spans.push({ first, end, count });
    }
    return spans;
  });
}

/** Counts that a move from one can lead to. */
export const countsAfter = (count: number): readonly number[] => (count === 0 ? [0, 1] : [0, 1, count + 1]);

/** The same spans by their count. */
export function byCount(spans: readonly Span[]): readonly (Span | undefined)[] {
  const result: (Span | undefined)[] = [];
  for (const span of spans) result[span.count] = span;
  return result;
}

/** Ways from one count to another that it can lead to. Moves that are made one way are the same for all counts. */
const ways = { uncounted: 0, on: 1, anew: 2 } as const;
function wayBetween(from: number, to: number): number {
  if (to === 0 || from === 0) return ways.uncounted;
  return to === from + 1 ? ways.on : ways.anew;
}

/** The blocks of one table of moves. */
export class Blocks {
  readonly #arena: Arena;
  readonly #table: Int32Array | Float64Array;
  readonly #placementCount: number;
  readonly #blocked: number;
  readonly #moves: MoveTable;
  /** By the first placement on either side. */
  readonly #made = new Map<number, Block[]>();

  constructor(arena: Arena, table: Int32Array | Float64Array, { placementCount, blocked, moves }: BlocksOf) {
    this.#arena = arena;
    this.#table = table;
    this.#placementCount = placementCount;
    this.#blocked = blocked;
    this.#moves = moves;
  }

  /** From some placements of a slot to some of the next whose count theirs leads to (`countsAfter`). */
  between(slot: LatticeSlot, from: Span, next: LatticeSlot, to: Span): Block {
    const way = wayBetween(from.count, to.count);
    const [start, end] = [
      kindOf(this.#moves, slot.placements[from.first]!),
      kindOf(this.#moves, next.placements[to.first]!),
    ];
    const key = (way * this.#placementCount + start) * this.#placementCount + end;
    const alike = this.#made.get(key) ?? [];
    for (const block of alike)
      if (this.#isSame(block.from, slot.placements, from) && this.#isSame(block.to, next.placements, to))
        return block;
    const block = this.#make(
      slot.placements.subarray(from.first, from.end),
      next.placements.subarray(to.first, to.end),
    );
    this.#made.set(key, [...alike, block]);
    return block;
  }

  #isSame(known: Int32Array, placements: Int32Array, { first, end }: Span): boolean {
    if (known.length !== end - first) return false;
    const alike = this.#moves.counted?.alike;
    if (!alike) {
      for (let k = 0; k < known.length; k++) if (known[k] !== placements[first + k]) return false;
    } else
      for (let k = 0; k < known.length; k++) if (known[k] !== alike[placements[first + k]!]) return false;
    return true;
  }

  #make(from: Int32Array, to: Int32Array): Block {
    const table = this.#table;
    const columns = wholeVectors(to.length);
    const size = table.BYTES_PER_ELEMENT;
    const at = this.#arena.take(size * columns * from.length);
    const view = table instanceof Int32Array ? this.#arena.ints : this.#arena.floats;
    let index = at / size;
    for (const one of from) {
      for (let column = 0; column < to.length; column++)
        view[index++] = table[moveIndex(this.#moves, this.#placementCount, one, to[column]!)]!;
      for (let column = to.length; column < columns; column++) view[index++] = this.#blocked;
    }
    const named = (one: number): number => kindOf(this.#moves, one);
    return { from: from.map(named), to: to.map(named), at, bytes: size * columns };
  }
}
