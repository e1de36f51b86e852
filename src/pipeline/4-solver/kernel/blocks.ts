// Moves from the placements of one pitch to those of another, laid side by side: a row for each of the first, filled up to whole
// vectors with moves that are blocked. Pitches are offered with the same placements in most slots: a block serves all of them.
// Where placements carry a count (lattice.ts), it serves all counts, too.
import { kindOf, moveIndex, type LatticeSlot, type MoveTable } from '../lattice';
import type { Arena } from './arena';

/** Numbers to a row come in so many: two vectors of costs, four of weights. */
export const laneCount = 8;
export const wholeVectors = (count: number): number => Math.ceil(count / laneCount) * laneCount;

export interface Block {
  readonly at: number;
  /** Of one row of one table. */
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
export interface PlacementSpan {
  readonly first: number;
  readonly end: number;
  readonly count: number;
  /** Equal for spans whose placements are alike to the table of moves. */
  readonly list: number;
}

interface SlotSpans {
  readonly slot: LatticeSlot;
  readonly spans: readonly (readonly PlacementSpan[])[];
}

/** Counts that a move from one can lead to. */
export const countsAfter = (count: number): readonly number[] => (count === 0 ? [0, 1] : [0, 1, count + 1]);

/** The same spans by their count. */
export function byCount(spans: readonly PlacementSpan[]): readonly (PlacementSpan | undefined)[] {
  const result: (PlacementSpan | undefined)[] = [];
  for (const span of spans) result[span.count] = span;
  return result;
}

/** Ways from one count to another that it can lead to. Moves that are made one way are the same for all counts. */
const ways = { uncounted: 0, on: 1, anew: 2 } as const;
const wayCount = Object.keys(ways).length;
function wayBetween(from: number, to: number): number {
  if (to === 0 || from === 0) return ways.uncounted;
  return to === from + 1 ? ways.on : ways.anew;
}

/** The blocks of one table of moves. */
export class Blocks {
  readonly #arena: Arena;
  readonly #tables: readonly (Int32Array | Float64Array)[];
  readonly #placementCount: number;
  readonly #blocked: number;
  readonly #moves: MoveTable;
  /** Lists of placements met so far, by the first of each. */
  readonly #lists = new Map<number, { readonly number: number; readonly kinds: Int32Array }[]>();
  #listCount = 0;
  /** Of the last slots asked for: the next step begins or ends at one of them. */
  #spans: readonly SlotSpans[] = [];
  /** By the way, and by list on either side. */
  readonly #made: (Block | undefined)[][] = [];

  /** @param tables of one kind, alike in what stands where: a row of one is followed by that of the next */
  constructor(
    arena: Arena,
    tables: readonly (Int32Array | Float64Array)[],
    { placementCount, blocked, moves }: BlocksOf,
  ) {
    this.#arena = arena;
    this.#tables = tables;
    this.#placementCount = placementCount;
    this.#blocked = blocked;
    this.#moves = moves;
  }

  /** By pitch: all its placements, or those of each count by themselves. */
  spansOf(slot: LatticeSlot): readonly (readonly PlacementSpan[])[] {
    const known = this.#spans.find((one) => one.slot === slot);
    if (known) return known.spans;
    const { placements, groupStart, pitches } = slot;
    const counted = this.#moves.counted;
    const countOf = (k: number): number => (counted ? counted.count[placements[k]!]! : 0);
    const spans = Array.from(pitches, (_, pitch) => {
      const ofPitch: PlacementSpan[] = [];
      const last = groupStart[pitch + 1]!;
      for (let first = groupStart[pitch]!, end = first; first < last; first = end) {
        const count = countOf(first);
        while (end < last && countOf(end) === count) end++;
        ofPitch.push({ first, end, count, list: this.#listOf(placements.subarray(first, end)) });
      }
      return ofPitch;
    });
    this.#spans = [{ slot, spans }, ...this.#spans.slice(0, 1)];
    return spans;
  }

  /** The number of a list of placements. */
  #listOf(placements: Int32Array): number {
    const first = kindOf(this.#moves, placements[0]!);
    const alike = this.#lists.get(first) ?? [];
    for (const { number, kinds } of alike) if (this.#isOf(kinds, placements)) return number;
    const number = this.#listCount++;
    const kinds = placements.map((one) => kindOf(this.#moves, one));
    this.#lists.set(first, [...alike, { number, kinds }]);
    return number;
  }

  #isOf(kinds: Int32Array, placements: Int32Array): boolean {
    if (kinds.length !== placements.length) return false;
    for (let k = 0; k < kinds.length; k++) if (kinds[k] !== kindOf(this.#moves, placements[k]!)) return false;
    return true;
  }

  /** From some placements of a slot to some of the next whose count theirs leads to (`countsAfter`). */
  between(slot: LatticeSlot, from: PlacementSpan, next: LatticeSlot, to: PlacementSpan): Block {
    const row = (this.#made[from.list * wayCount + wayBetween(from.count, to.count)] ??= []);
    return (row[to.list] ??= this.#make(
      slot.placements.subarray(from.first, from.end),
      next.placements.subarray(to.first, to.end),
    ));
  }

  #make(from: Int32Array, to: Int32Array): Block {
    const tables = this.#tables;
    const columns = wholeVectors(to.length);
    const size = tables[0]!.BYTES_PER_ELEMENT;
    const at = this.#arena.take(size * columns * from.length * tables.length);
    const view = tables[0] instanceof Int32Array ? this.#arena.ints : this.#arena.floats;
    let index = at / size;
    for (const one of from) {
      for (const table of tables) {
        for (let column = 0; column < to.length; column++)
          view[index++] = table[moveIndex(this.#moves, this.#placementCount, one, to[column]!)]!;
        for (let column = to.length; column < columns; column++) view[index++] = this.#blocked;
      }
    }
    return { at, bytes: size * columns };
  }
}
