// What was worked out and may be asked for again. One rule of what is let go of where there is no more room: what was asked
// for longest ago.
import { LRUCache } from 'lru-cache';

/** Anything but null and undefined: what is not there is undefined. */
type Some = NonNullable<unknown>;

/** Values by key, of limited size. To get a value, or to set it, makes it the last to go; `peek` leaves the order alone. */
export interface Cache<Key extends Some, Value extends Some> {
  get(key: Key): Value | undefined;
  peek(key: Key): Value | undefined;
  set(key: Key, value: Value): unknown;
  delete(key: Key): boolean;
  clear(): void;
  /** The one used last comes first. */
  entries(): IterableIterator<[Key, Value]>;
  keys(): IterableIterator<Key>;
  values(): IterableIterator<Value>;
  /** How many there are. */
  readonly size: number;
  /** Their sizes together. */
  readonly calculatedSize: number;
}

interface Room<Value> {
  /** Sizes of all values together. */
  readonly most: number;
  /** 1 as usual; a value that is larger than all the room is kept alone. */
  readonly sizeOf?: (value: Value) => number;
  /** How many values there may be, whatever their sizes. */
  readonly mostValues?: number;
}

export const makeCache = <Key extends Some, Value extends Some>({
  most,
  sizeOf = () => 1,
  mostValues = 0,
}: Room<Value>): Cache<Key, Value> =>
  new LRUCache<Key, Value>({
    max: mostValues,
    maxSize: most,
    sizeCalculation: (value) => Math.min(most, Math.max(1, sizeOf(value))),
  });

/** The value of a key, made where it is not there. */
export function getOrMake<Key, Value>(
  kept: { get(key: Key): Value | undefined; set(key: Key, value: Value): unknown },
  key: Key,
  make: () => Value,
): Value {
  const found = kept.get(key);
  if (found !== undefined) return found;
  const made = make();
  kept.set(key, made);
  return made;
}

/** Numbers in the place of keys: as long as a key is kept it has one number, and no number is ever given twice. */
export class Numbers<Key extends Some> {
  readonly #numbers: Cache<Key, number>;
  #next = 0;

  /** @param most keys */
  constructor(most: number) {
    this.#numbers = makeCache({ most });
  }

  of(key: Key): number {
    return getOrMake(this.#numbers, key, () => this.#next++);
  }
}
