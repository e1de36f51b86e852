// Computed sounds that are kept, up to a number of bytes: what was used longest ago goes first.

export interface Kept<Sound> {
  readonly sound: Sound;
  readonly seconds: number;
  readonly bytes: number;
}

export class Shelf<Sound> {
  readonly #limit: number;
  /** The one used last is at the end. */
  readonly #kept = new Map<string, Kept<Sound>>();
  #bytes = 0;

  /** @param limit bytes */
  constructor(limit: number) {
    this.#limit = limit;
  }

  get bytes(): number {
    return this.#bytes;
  }

  get names(): readonly string[] {
    return [...this.#kept.keys()];
  }

  /** Whether a sound is there, at least so long. */
  has(name: string, seconds: number): boolean {
    return (this.#kept.get(name)?.seconds ?? -1) >= seconds;
  }

  get(name: string): Sound | undefined {
    const found = this.#kept.get(name);
    if (!found) return undefined;
    this.#kept.delete(name);
    this.#kept.set(name, found);
    return found.sound;
  }

  /** Takes a sound in, in place of one with its name, and lets go of others where there is no room. */
  put(name: string, kept: Kept<Sound>): void {
    if (kept.bytes > this.#limit) return;
    this.#drop(name);
    while (this.#bytes + kept.bytes > this.#limit) this.#drop(this.#kept.keys().next().value!);
    this.#kept.set(name, kept);
    this.#bytes += kept.bytes;
  }

  clear(): void {
    this.#kept.clear();
    this.#bytes = 0;
  }

  #drop(name: string): void {
    const found = this.#kept.get(name);
    if (!found) return;
    this.#kept.delete(name);
    this.#bytes -= found.bytes;
  }
}
