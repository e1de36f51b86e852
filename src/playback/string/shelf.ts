// Computed sounds that are kept, up to a number of bytes.
import { makeCache, type Cache } from '../../cache';

export interface Kept<Sound> {
  readonly sound: Sound;
  readonly seconds: number;
  readonly bytes: number;
}

export class SoundShelf<Sound> {
  readonly #limit: number;
  readonly #kept: Cache<string, Kept<Sound>>;

  /** @param limit bytes */
  constructor(limit: number) {
    this.#limit = limit;
    this.#kept = makeCache({ most: limit, sizeOf: ({ bytes }) => bytes });
  }

  get bytes(): number {
    return this.#kept.calculatedSize;
  }

  /** The one used last is at the end. */
  get names(): readonly string[] {
    return [...this.#kept.keys()].reverse();
  }

  /** Whether a sound is there, at least so long. */
  has(name: string, seconds: number): boolean {
    return (this.#kept.peek(name)?.seconds ?? -1) >= seconds;
  }

  get(name: string): Sound | undefined {
    return this.#kept.get(name)?.sound;
  }

  /** Takes a sound in, in place of one with its name; one that is larger than all the room is not kept. */
  put(name: string, kept: Kept<Sound>): void {
    if (kept.bytes <= this.#limit) this.#kept.set(name, kept);
  }

  clear(): void {
    this.#kept.clear();
  }
}
