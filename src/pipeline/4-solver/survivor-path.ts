// The survivor path (Viterbi traceback), read back while its messages are still being made.
//
// Tables of a long path are not all kept, and making them again to read the path would take the time once more. But the
// ways back from all states of a slot soon come through one and the same state: whatever follows, the path goes through it,
// and from there back it is settled. So the tables up to there are done with. It is the path that is read from all tables
// at the end, since every step back is the same step; where the ways do not meet, the tables are made again after all.

/** Reads one step of a path. States are numbered as in the tables: row times width, plus column. */
export interface StepBack<Value> {
  /** States of slot t that a path may go through, rising. */
  open(t: number, value: Value): Iterable<number>;
  /** The state of slot t that comes before a state of slot t + 1, given X_t. */
  before(t: number, value: Value, state: number): number;
}

/** Tables after which it is tried again whether the ways back meet. */
const patience = 128;

/** Tables that are held at most. */
const mostTables = 512;

export class SurvivorPath<Value extends object> {
  readonly #back: StepBack<Value>;
  /** By slot: the state that the path goes through; -1 where that is not settled. */
  readonly #settled: Int32Array;
  /** X of the slots from `#first` on, in a row. */
  #tables: Value[] = [];
  #first = 0;
  /** Number of tables at which to try again. */
  #due = patience;

  constructor(length: number, back: StepBack<Value>) {
    this.#back = back;
    this.#settled = new Int32Array(length).fill(-1);
  }

  /** Told every table when it has been made. After a gap it starts again. */
  take(t: number, value: Value): void {
    if (t !== this.#first + this.#tables.length) this.#startAt(t);
    this.#tables.push(value);
    if (this.#tables.length < this.#due) return;
    this.#settle();
    this.#due = this.#tables.length + patience;
    if (this.#due > mostTables) this.#startAt(t + 1);
  }

  /** The state of slot t, given that of slot t + 1. @param valueAt X of a slot, where no table is held */
  before(t: number, state: number, valueAt: (t: number) => Value): number {
    const settled = this.#settled[t]!;
    if (settled >= 0) return settled;
    return this.#back.before(t, this.#tables[t - this.#first] ?? valueAt(t), state);
  }

  #startAt(t: number): void {
    this.#tables = [];
    this.#first = t;
    this.#due = patience;
  }

  /** Goes back from all states of the last table; from where they meet, the path is settled and the tables go. */
  #settle(): void {
    const last = this.#tables.length - 1;
    let states: Iterable<number> = this.#back.open(this.#first + last, this.#tables[last]!);
    let met = -1;
    for (let place = last - 1; place >= 0; place--) {
      const t = this.#first + place;
      const before = new Set<number>();
      for (const state of states) before.add(this.#back.before(t, this.#tables[place]!, state));
      if (before.size === 0) return;
      if (before.size === 1) {
        if (met < 0) met = place;
        for (const state of before) this.#settled[t] = state;
      }
      states = before;
    }
    if (met < 0) return;
    this.#tables.splice(0, met + 1);
    this.#first += met + 1;
  }
}
