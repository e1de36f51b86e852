// A recursion X_0, X_{t+1} = step(t, X_t) that is run once and read many times: kept whole while it is small, else kept at
// every so many slots and made again in between.
//
// Reading backwards, as tracing does, makes every stretch again once: twice the time of keeping everything, and memory for
// 2 sqrt(T) values in place of T. What is made again is the same to the bit, so no result depends on which way was taken.
//
// A chain also grows out of an earlier one after an edit. Values are taken over up to the first slot that changed; from
// there the recursion runs until it meets the earlier one again, and its values hold once more up to the next change. It
// meets soon: some slots after an edit the best ways to all states come through one common state.

/** A recursion over slots 0 to length - 1. */
export interface Recursion<Value> {
  readonly length: number;
  first(): Value;
  /** X_{t+1} from X_t. */
  next(t: number, value: Value): Value;
  /** True when what follows is the same from both. */
  isSame(a: Value, b: Value): boolean;
  /** Bytes that X_t takes. */
  bytesAt(t: number): number;
}

/**
 * For every slot the earlier slot that is the same, -1 where there is none. A step of the recursion may look at the slot
 * before and the slot after; a match is what makes it the same step when the slots around it match in a row.
 */
export type Match = Int32Array;

/** An earlier chain that a new one may take values from. */
export interface Earlier<Value extends object> {
  readonly chain: Chain<Value>;
  readonly match: Match;
}

/** Told how much of a pass is done, from 0 to 1. */
export type Watch = (done: number) => void;

/** Values up to so many bytes are all kept. */
export const mostKeptBytes = 12 * 2 ** 20;

function spacingFor<Value>({ length, bytesAt }: Recursion<Value>): number {
  let bytes = 0;
  for (let t = 0; t < length; t++) bytes += bytesAt(t);
  return bytes <= mostKeptBytes ? 1 : Math.ceil(Math.sqrt(length));
}

interface Stretch<Value> {
  readonly start: number;
  readonly values: readonly Value[];
}

export class Chain<Value extends object> {
  readonly length: number;
  /** Values that were computed, not taken over. */
  computed = 0;
  readonly #recursion: Recursion<Value>;
  readonly #spacing: number;
  /** X at every multiple of the spacing. */
  readonly #kept: Value[] = [];
  /** The two stretches read last, each from a kept value on: tracing back and ahead by turns may cross from one to the next. */
  #stretches: readonly Stretch<Value>[] = [];

  constructor(
    recursion: Recursion<Value>,
    earlier: Earlier<Value> | null = null,
    watch: Watch = () => undefined,
    spacing: number = spacingFor(recursion),
  ) {
    this.length = recursion.length;
    this.#recursion = recursion;
    this.#spacing = spacing;
    this.#run(earlier && earlier.chain.#spacing === spacing ? earlier : null, watch);
  }

  /** X_t. Cheapest when the slots asked for go down one by one. */
  at(t: number): Value {
    const start = t - (t % this.#spacing);
    if (this.#spacing === 1) return this.#kept[start]!;
    let stretch = this.#stretches.find((one) => one.start === start);
    if (!stretch) {
      stretch = { start, values: this.#make(start) };
      this.#stretches = [stretch, ...this.#stretches.slice(0, 1)];
    }
    return stretch.values[t - start]!;
  }

  /** Values held, for whoever counts memory. */
  get arrays(): readonly Value[] {
    return [...this.#kept, ...this.#stretches.flatMap(({ values }) => values)];
  }

  /** Fills in the kept values, from an earlier chain where it holds. */
  #run(earlier: Earlier<Value> | null, watch: Watch): void {
    const count = Math.ceil(this.length / this.#spacing);
    const runs = earlier ? runLengths(earlier.match) : null;
    let isSame = false;
    for (let k = 0; k < count; k++) {
      const t = k * this.#spacing;
      const before = earlier ? earlier.chain.#keptAt(earlier.match[t]!) : undefined;
      const run = runs?.[t] ?? 0;
      // X_t is the earlier one where X at the last kept slot was and all steps from there are the same steps.
      const isTaken: boolean =
        before !== undefined && (k === 0 ? run > 1 : isSame && run > this.#spacing + 1);
      const value: Value = isTaken ? before! : this.#compute(k);
      this.#kept.push(value);
      isSame = isTaken || (before !== undefined && this.#recursion.isSame(value, before));
      watch((k + 1) / count);
    }
  }

  /** The kept value at a slot; undefined where none is. */
  #keptAt(t: number): Value | undefined {
    return t >= 0 && t % this.#spacing === 0 ? this.#kept[t / this.#spacing] : undefined;
  }

  #compute(k: number): Value {
    if (k > 0) return this.#advance((k - 1) * this.#spacing);
    this.computed++;
    return this.#recursion.first();
  }

  /** The kept value after the one at slot `start`. */
  #advance(start: number): Value {
    let value = this.#kept[start / this.#spacing]!;
    for (let t = start; t < start + this.#spacing; t++) value = this.#next(t, value);
    return value;
  }

  #make(start: number): readonly Value[] {
    const values = [this.#kept[start / this.#spacing]!];
    const end = Math.min(start + this.#spacing, this.length);
    for (let t = start; t + 1 < end; t++) values.push(this.#next(t, values[t - start]!));
    return values;
  }

  #next(t: number, value: Value): Value {
    this.computed++;
    return this.#recursion.next(t, value);
  }
}

/** How many slots in a row up to each match slots in a row; the one before the first matches the one before the first. */
function runLengths(match: Match): Int32Array {
  const result = new Int32Array(match.length);
  match.forEach((other, t) => {
    const before = t === 0 ? -1 : match[t - 1]!;
    const goesOn = other >= 0 && before === other - 1 && (t === 0 || before >= 0);
    result[t] = other < 0 ? 0 : 1 + (goesOn ? (t === 0 ? 1 : result[t - 1]!) : 0);
  });
  return result;
}
