// The memory that the loops of relax.wat work in, handed out from its start on.

/** The placements of a pitch, and the length of a row of ways from them. */
type Source = [first: number, size: number, wayBytes: number];
/** A step from them to another pitch under one rule. */
type Way = [next: number, costs: number, pair: number, block: number, bytes: number, start: number];

/** A step from the memory states that are listed as open. */
type ByOpenStates = (...step: [...Source, opened: number, ...Way]) => void;

/** What relax.wat exports; numbers are places in its memory in bytes, or counts. */
export interface Relax {
  readonly memory: { readonly buffer: ArrayBuffer; grow(pages: number): number };
  workspace(ways: number, states: number, rowOf: number, open: number): void;
  worthWorkspace(ahead: number, result: number, ways: number): void;
  step(sums: number, width: number, rows: number, result: number, outWidth: number, outRows: number): void;
  openLeast(first: number, size: number): number;
  openWeights(first: number, size: number): number;
  readonly relaxLeast: ByOpenStates;
  readonly addWeights: ByOpenStates;
  relaxBack(...step: [...Source, ...Way]): void;
  readonly relaxWide: ByOpenStates;
  addAhead(
    ...step: [
      ...Source,
      opened: number,
      next: number,
      weights: number,
      logs: number,
      pair: number,
      pairLog: number,
      block: number,
      bytes: number,
      start: number,
    ]
  ): void;
  addUnary(at: number, width: number, rows: number, unary: number): void;
  level(at: number, count: number): void;
  settleWeights(at: number, width: number, rows: number, unary: number): void;
}

const page = 2 ** 16;
/** Of a vector: every array begins at a multiple. */
const alignment = 16;

export class Arena {
  readonly relax: Relax;
  #ints: Int32Array;
  #floats: Float64Array;
  #top = 0;
  #sharedFrom = 0;

  private constructor(relax: Relax) {
    this.relax = relax;
    this.#ints = new Int32Array(relax.memory.buffer);
    this.#floats = new Float64Array(relax.memory.buffer);
  }

  /** Null where the program may not run: no vectors, or a page whose policy forbids it. */
  static make(program: Uint8Array<ArrayBuffer>): Arena | null {
    try {
      const { exports } = new WebAssembly.Instance(new WebAssembly.Module(program));
      return new Arena(exports as unknown as Relax);
    } catch {
      return null;
    }
  }

  /** The whole memory; another array after `take` or `copy`. */
  get ints(): Int32Array {
    return this.#ints;
  }

  get floats(): Float64Array {
    return this.#floats;
  }

  /** Bytes of the whole memory, which never shrinks. */
  get bytes(): number {
    return this.relax.memory.buffer.byteLength;
  }

  /** Bytes taken since `share`. */
  get shared(): number {
    return this.#top - this.#sharedFrom;
  }

  /** From here on what is taken is shared by all steps. */
  share(): void {
    this.#sharedFrom = this.#top;
  }

  clear(): void {
    this.#top = 0;
    this.#sharedFrom = 0;
  }

  /** Room for so many bytes; returns its place. */
  take(bytes: number): number {
    const at = this.#top;
    this.#top = Math.ceil((at + bytes) / alignment) * alignment;
    const { memory } = this.relax;
    const missing = this.#top + alignment * 4 - memory.buffer.byteLength;
    if (missing > 0) {
      // At least by a quarter, so that growing stays rare.
      memory.grow(Math.ceil(Math.max(missing, memory.buffer.byteLength / 4) / page));
      this.#ints = new Int32Array(memory.buffer);
      this.#floats = new Float64Array(memory.buffer);
    }
    return at;
  }

  /** Room with a copy of the numbers. */
  copy(numbers: Int32Array | Float64Array | Uint16Array): number {
    const at = this.take(numbers.byteLength);
    new Uint8Array(this.relax.memory.buffer, at).set(
      new Uint8Array(numbers.buffer, numbers.byteOffset, numbers.byteLength),
    );
    return at;
  }
}
