// Moves from the placements of one pitch to those of another, laid side by side: a row for each of the first, filled up to whole
// vectors with moves that are blocked. Pitches are offered with the same placements in most slots: a block serves all of them.
import type { LatticeSlot } from '../lattice';
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

/** True when a slot's placements from `start` on are these. */
function isSame(known: Int32Array, placements: Int32Array, start: number, end: number): boolean {
  if (known.length !== end - start) return false;
  for (let k = 0; k < known.length; k++) if (known[k] !== placements[start + k]) return false;
  return true;
}

/** The blocks of one table of moves. */
export class Blocks {
  readonly #arena: Arena;
  readonly #table: Int32Array | Float64Array;
  readonly #placementCount: number;
  readonly #blocked: number;
  /** By the first placement on either side. */
  readonly #made = new Map<number, Block[]>();

  /** @param blocked a move that is never made, in the table's numbers */
  constructor(arena: Arena, table: Int32Array | Float64Array, placementCount: number, blocked: number) {
    this.#arena = arena;
    this.#table = table;
    this.#placementCount = placementCount;
    this.#blocked = blocked;
  }

  /** From pitch b of a slot to pitch n of the next; both are offered with some placement. */
  between(slot: LatticeSlot, b: number, next: LatticeSlot, n: number): Block {
    const [first, last] = [slot.groupStart[b]!, slot.groupStart[b + 1]!];
    const [start, end] = [next.groupStart[n]!, next.groupStart[n + 1]!];
    const key = slot.placements[first]! * this.#placementCount + next.placements[start]!;
    const alike = this.#made.get(key) ?? [];
    for (const block of alike)
      if (isSame(block.from, slot.placements, first, last) && isSame(block.to, next.placements, start, end))
        return block;
    const block = this.#make(slot.placements.slice(first, last), next.placements.slice(start, end));
    this.#made.set(key, [...alike, block]);
    return block;
  }

  #make(from: Int32Array, to: Int32Array): Block {
    const table = this.#table;
    const columns = wholeVectors(to.length);
    const size = table.BYTES_PER_ELEMENT;
    const at = this.#arena.take(size * columns * from.length);
    const view = table instanceof Int32Array ? this.#arena.ints : this.#arena.floats;
    let index = at / size;
    for (const one of from) {
      const row = one * this.#placementCount;
      for (let column = 0; column < columns; column++)
        view[index++] = column < to.length ? table[row + to[column]!]! : this.#blocked;
    }
    return { from, to, at, bytes: size * columns };
  }
}
