// A recursion X_0, X_{t+1} = step(t, X_t) that is run once and read many times: kept whole while it is small, else kept at
// every so many slots and made again in between.
//
// Reading backwards makes every stretch again once: twice the time of keeping everything, and memory for 2 sqrt(T) values in
// place of T. What is made again is the same to the bit, so no result depends on which way was taken. (Checkpointing: Griewank
// & Walther 2000, ACM Trans. Math. Software 26; its simplest scheme.)
//
// A chain also grows out of an earlier one after an edit. Values are taken over up to the first slot that changed; from
// there the recursion runs until it meets the earlier one again, and its values hold once more up to the next change. It
// meets soon: some slots after an edit the best ways to all states come through one common state.
//
// For the same reason a form that comes round meets itself: where a step is the same step as earlier in the chain and starts
// from the same value, its outcome is the value from there. So choruses after the first take little time and no memory.

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
  /** Numbers for the steps from t to t + 1, the same number for the same step; left out where no two are known to be. */
  readonly steps?: ArrayLike<number>;
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
export type WatchChain = (done: number) => void;

/** Values up to so many bytes are all kept. */
export const mostKeptBytes = 32 * 2 ** 20;

/** Passes over a form that comes round until it meets itself: values of one of them are counted once more, to be safe. */
const passesToMeet = 2;

function spacingFor<Value>({ length, bytesAt, steps }: Recursion<Value>): number {
  const times = new Map<number, number>();
  let bytes = 0;
  for (let t = 0; t < length; t++) {
    const before = steps && t > 0 ? (times.get(steps[t - 1]!) ?? 0) : 0;
    if (steps && t > 0) times.set(steps[t - 1]!, before + 1);
    if (before < passesToMeet) bytes += bytesAt(t);
  }
  return bytes <= mostKeptBytes ? 1 : sparse(length);
}

const sparse = (length: number): number => Math.ceil(Math.sqrt(length));

/** What a step made of one value. */
interface Outcome<Value> {
  readonly from: Value;
  readonly to: Value;
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
  #spacing: number;
  /** X at every multiple of the spacing. */
  #kept: Value[] = [];
  /** What steps made of values before, by the number of the step; only while every value is kept anyway. */
  readonly #outcomes = new Map<number, Outcome<Value>[]>();
  /** The two stretches made last, each from a kept value on: tracing back and ahead by turns may cross from one to the next. */
  #stretches: readonly Stretch<Value>[] = [];

  constructor(
    recursion: Recursion<Value>,
    earlier: Earlier<Value> | null = null,
    watch: WatchChain = () => undefined,
    spacing?: number,
  ) {
    this.length = recursion.length;
    this.#recursion = recursion;
    this.#spacing = spacing ?? spacingFor(recursion);
    const most = spacing === undefined && this.#spacing === 1 ? mostKeptBytes : Number.POSITIVE_INFINITY;
    const isKept = this.#run(earlier, watch, most);
    this.#outcomes.clear();
    if (isKept) return;
    // A form that comes round but does not meet itself: kept at every so many slots after all.
    this.#spacing = sparse(this.length);
    this.#run(earlier, watch, Number.POSITIVE_INFINITY);
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

  /** Bytes that the kept values take, each counted once. */
  get bytes(): number {
    const counted = new Set<Value>();
    let bytes = 0;
    this.#kept.forEach((value, k) => {
      if (!counted.has(value)) bytes += this.#recursion.bytesAt(k * this.#spacing);
      counted.add(value);
    });
    return bytes;
  }

  /** Values held, each once, for whoever counts memory. */
  get arrays(): readonly Value[] {
    return [...new Set([...this.#kept, ...this.#stretches.flatMap(({ values }) => values)])];
  }

  /**
   * Fills in the kept values, from an earlier chain where it holds.
   * @returns false, with nothing done, when more than `mostBytes` would be computed
   */
  #run(before: Earlier<Value> | null, watch: WatchChain, mostBytes: number): boolean {
    const earlier = before && before.chain.#spacing === this.#spacing ? before : null;
    const count = Math.ceil(this.length / this.#spacing);
    let bytes = 0;
    this.#kept = [];
    const runs = earlier ? runLengths(earlier.match) : null;
    let isSame = false;
    for (let k = 0; k < count; k++) {
      const t = k * this.#spacing;
      const old = earlier ? earlier.chain.#keptAt(earlier.match[t]!) : undefined;
      const run = runs?.[t] ?? 0;
      // X_t is the earlier one where X at the last kept slot was and all steps from there are the same steps.
      const isTaken: boolean = old !== undefined && (k === 0 ? run > 1 : isSame && run > this.#spacing + 1);
      const computed = this.computed;
      const value: Value = isTaken ? old! : this.#compute(k);
      if (this.computed > computed) bytes += this.#recursion.bytesAt(t);
      if (bytes > mostBytes) return false;
      this.#kept.push(value);
      if (isTaken && k > 0) this.#remember(t - 1, this.#kept[k - 1]!, value);
      isSame = isTaken || (old !== undefined && (value === old || this.#recursion.isSame(value, old)));
      watch((k + 1) / count);
    }
    return true;
  }

  /** The kept value at a slot; undefined where none is: between two of them, and before the first. */
  #keptAt(t: number): Value | undefined {
    return this.#kept[t / this.#spacing];
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
    const known = this.#known(t);
    const found = known?.find(({ from }) => from === value);
    if (found) return found.to;
    this.computed++;
    const made = this.#recursion.next(t, value);
    const same = known?.find(({ to }) => this.#recursion.isSame(to, made));
    const to = same ? same.to : made;
    known?.push({ from: value, to });
    return to;
  }

  /** What is known of the step from t on; undefined where it is not remembered. */
  #known(t: number): Outcome<Value>[] | undefined {
    const { steps } = this.#recursion;
    if (!steps || this.#spacing > 1) return undefined;
    const found = this.#outcomes.get(steps[t]!);
    if (found) return found;
    const made: Outcome<Value>[] = [];
    this.#outcomes.set(steps[t]!, made);
    return made;
  }

  #remember(t: number, from: Value, to: Value): void {
    const known = this.#known(t);
    if (known && !known.some((one) => one.from === from)) known.push({ from, to });
  }
}

/** How many slots in a row up to each match slots in a row; the one before the first matches the one before the first. */
function runLengths(match: Match): Int32Array {
  const result = new Int32Array(match.length);
  match.forEach((other, t) => {
    const before = t === 0 ? -1 : match[t - 1]!;
    const run = t === 0 ? 1 : result[t - 1]!;
    result[t] = other < 0 ? 0 : 1 + (before === other - 1 ? run : 0);
  });
  return result;
}
