// "At least so much of the stopped time in each of some regions", exactly: of all paths of a lattice that have the shares the
// one with the fewest notes changed, of these the cheapest, of these the one with the fewest fingers changed.
//
// Pre: a lattice, what each of its states is worth, and the region that each placement is stopped in. Post: that path; or one
// that has the shares with how much it may be over the least, where proving it took too long; or none.
// Method: a shortest path with resources (Handler & Zang 1980, Networks 10; Irnich & Desaulniers 2005, "Shortest path problems
// with resource constraints") [from memory]. Each missing beat of a region has a price (a Lagrange multiplier), found by
// subgradient steps; at any prices no path that has the shares costs less than the best path at them. Then labels: ways into
// a state with their counts of beats, of which only those go on whose reduced costs stay under a gap that is widened until
// a path is found within it. That path is the least, since every other path within the gap was looked at.
import {
  barrier,
  moveIndex,
  reachedMemories,
  rowsAt,
  wideMessages,
  widePath,
  type Lattice,
  type Path,
  type WideMessages,
} from '../4-solver';
import type { Values } from './exact-values';

/** Where the stopped time of a path lies. */
export interface Shares {
  /** By slot that counts and by placement: the place of its region in `regions` or that of another; null for an open string. */
  readonly regionOf: readonly (readonly (number | null)[])[];
  /** By slot that counts: how long it lasts, in whole units. */
  readonly lengths: readonly number[];
  /** How many regions are to have their share. */
  readonly regions: number;
  /** In hundredths. */
  readonly share: number;
}

export interface Shared {
  readonly path: Path;
  /** What it may be worth more than the least at most; 0 where it is the least. */
  readonly over: number;
}

const hundred = 100;
/** Prices are sought for so many steps once a path that has the shares is known. */
const mostSteps = 8;
/** Until one is, it is taken to be worth so many thousandths more than the bound, and so many steps are made. */
const firstGuess = 100_000;
const mostGuesses = 10;
/** Labels in all before the search for a proof ends. */
const mostLabels = 100_000;

/** Hundredths that each region has too much of (below 0: too little) on a path. */
function surplusOf({ regionOf, lengths, regions, share }: Shares, path: ArrayLike<number>): number[] {
  const surplus = new Array<number>(regions).fill(0);
  lengths.forEach((length, t) => {
    const region = regionOf[t]![path[t]!]!;
    if (region === null) return;
    for (let r = 0; r < regions; r++) surplus[r]! += length * ((r === region ? hundred : 0) - share);
  });
  return surplus;
}

const hasAll = (surplus: readonly number[]): boolean => surplus.every((one) => one >= 0);

/** The values with what the regions are paid for. */
function priced(
  values: Values,
  { regionOf, lengths, regions, share }: Shares,
  prices: readonly number[],
): Values {
  const whole = prices.reduce((sum, one) => sum + one, 0) * share;
  return {
    ...values,
    unary: values.unary.map((unary, t) => {
      const length = lengths[t];
      if (length === undefined) return unary;
      return unary.map((value, h) => {
        const region = regionOf[t]![h]!;
        if (region === null) return value;
        return value + length * (whole - (region < regions ? prices[region]! * hundred : 0));
      });
    }),
  };
}

/** A path with its worth at no prices. */
interface Found {
  readonly path: Path;
  readonly worth: number;
}

interface Priced {
  readonly prices: readonly number[];
  readonly messages: WideMessages;
  /** No path that has the shares is worth less. */
  readonly least: number;
}

/**
 * Prices at which the bound is high, and the best path that has the shares met on the way. Once one is met, steps go by how far
 * the bound is from it (Polyak 1969) [from memory].
 * @returns null where there is no path at all
 */
function findPrices(
  lattice: Lattice,
  values: Values,
  shares: Shares,
): { readonly best: Priced; readonly found: Found | null } | null {
  let prices: readonly number[] = new Array<number>(shares.regions).fill(0);
  let best: Priced | null = null;
  let found: Found | null = null;
  const reached = reachedMemories(lattice);
  let eager = 1;
  let guesses = 0;
  for (let count = 0; count < mostSteps;) {
    const made = wideMessages(lattice, priced(values, shares, prices), reached);
    if (!Number.isFinite(made.least)) return null;
    const path = widePath(lattice, made);
    const surplus = surplusOf(shares, path);
    if (!best || made.least > best.least) best = { prices, messages: made, least: made.least };
    else eager *= 0.6;
    if (hasAll(surplus)) {
      const worth = values.worthOf(path);
      if (!found || worth < found.worth) found = { path, worth };
    }
    const size = surplus.reduce((sum, one) => sum + one * one, 0);
    if (found) count++;
    else if (++guesses > mostGuesses) break;
    if ((found && found.worth - best.least < 1) || size === 0) break;
    const target = found ? found.worth : best.least + firstGuess * values.unit;
    const by = (eager * (target - made.least)) / size;
    prices = prices.map((price, r) => Math.max(0, Math.round(price - by * surplus[r]!)));
  }
  return best && { best, found };
}

/** A way into a state, with what it has counted. */
interface Label {
  readonly state: number;
  readonly placement: number;
  readonly memory: number;
  readonly worth: number;
  /** What the best whole path through it is worth more than the bound, at the prices. */
  readonly slack: number;
  readonly counts: readonly number[];
  readonly stopped: number;
  readonly from: Label | null;
}

/** For every slot and region: time from there on that could lie in it. */
function timeLeft({ regionOf, lengths, regions }: Shares): readonly (readonly number[])[] {
  const left: number[][] = [new Array<number>(regions).fill(0)];
  for (let t = lengths.length - 1; t >= 0; t--) {
    const after = left[0]!;
    left.unshift(after.map((sum, r) => sum + (regionOf[t]!.includes(r) ? lengths[t]! : 0)));
  }
  return left;
}

class Labels {
  readonly #lattice: Lattice;
  readonly #values: Values;
  readonly #shares: Shares;
  readonly #priced: Values;
  readonly #bound: Priced;
  readonly #left: readonly (readonly number[])[];
  /** More time in a region than could ever be asked for is not told apart. */
  readonly #enough: number;
  readonly #base: number;

  constructor(lattice: Lattice, values: Values, shares: Shares, bound: Priced) {
    this.#lattice = lattice;
    this.#values = values;
    this.#shares = shares;
    this.#bound = bound;
    this.#priced = priced(values, shares, bound.prices);
    this.#left = timeLeft(shares);
    const whole = shares.lengths.reduce((sum, one) => sum + one, 0);
    this.#enough = Math.ceil((whole * shares.share) / hundred);
    this.#base = whole + 1;
  }

  /**
   * The least path within a gap of the bound; null where there is none, undefined where there were too many labels to say.
   */
  within(gap: number): Found | null | undefined {
    const { slots } = this.#lattice;
    let now = this.#starts(gap);
    let made = now.size;
    for (let t = 0; t + 1 < slots.length; t++) {
      const after = new Map<number, Label>();
      for (const label of now.values()) this.#goOn(t, label, gap, after);
      made += after.size;
      if (made > mostLabels) return undefined;
      now = after;
    }
    let best: Label | null = null;
    for (const label of now.values()) if (!best || label.worth < best.worth) best = label;
    if (!best) return null;
    const path = new Int32Array(slots.length);
    for (let label: Label | null = best, t = slots.length - 1; label; label = label.from, t--)
      path[t] = label.placement;
    return { path, worth: best.worth };
  }

  #starts(gap: number): Map<number, Label> {
    const { startMemory } = this.#lattice;
    const unary = this.#priced.unary[0]!;
    const width = unary.length;
    const labels = new Map<number, Label>();
    const { on } = this.#bound.messages;
    unary.forEach((value, h) => {
      const state = startMemory * width + h;
      const slack = value + on[0]![state]! - this.#bound.least;
      if (slack <= gap) this.#add(labels, 0, h, startMemory, this.#values.unary[0]![h]!, slack, null);
    });
    return labels;
  }

  #goOn(t: number, label: Label, gap: number, after: Map<number, Label>): void {
    const slot = this.#lattice.slots[t]!;
    const next = this.#lattice.slots[t + 1]!;
    const { unary } = this.#priced;
    const on = this.#bound.messages.on[t + 1]!;
    const onFrom = this.#bound.messages.on[t]![label.state]!;
    const columns = next.pitches.length;
    const width = next.placements.length;
    const rows = rowsAt(this.#lattice, t + 1);
    const placement = slot.placements[label.placement]!;
    let b = 0;
    while (slot.groupStart[b + 1]! <= label.placement) b++;
    for (let n = 0; n < columns; n++) {
      const step = slot.stepCosts[b * columns + n]!;
      if (step >= barrier) continue;
      const { next: leads, costs } = slot.rules[slot.ruleOf[b * columns + n]!]!;
      const cost = costs[label.memory]!;
      const memory = leads[label.memory]!;
      if (cost >= barrier || memory >= rows) continue;
      for (let h = next.groupStart[n]!; h < next.groupStart[n + 1]!; h++) {
        const at = moveIndex(slot.moves, this.#lattice.placementCount, placement, next.placements[h]!);
        const move = slot.moves.costs[at]!;
        if (move >= barrier) continue;
        const pairwise = (step + cost + move) * this.#values.unit;
        const slack = label.slack + pairwise + unary[t + 1]![h]! + on[memory * width + h]! - onFrom;
        // Not a number where nothing leads on.
        if (!(slack <= gap)) continue;
        const worth = label.worth + pairwise + this.#values.unary[t + 1]![h]!;
        this.#add(after, t + 1, h, memory, worth, slack, label);
      }
    }
  }

  #add(
    labels: Map<number, Label>,
    t: number,
    placement: number,
    memory: number,
    worth: number,
    slack: number,
    from: Label | null,
  ): void {
    const { regionOf, lengths, regions, share } = this.#shares;
    const region = regionOf[t]?.[placement] ?? null;
    const length = lengths[t] ?? 0;
    const old = from?.counts ?? new Array<number>(regions).fill(0);
    const counts =
      region !== null && region < regions
        ? old.map((one, r) => (r === region ? Math.min(this.#enough, one + length) : one))
        : old;
    const stopped = (from?.stopped ?? 0) + (region === null ? 0 : length);
    const left = this.#left[Math.min(t + 1, lengths.length)]!;
    for (let r = 0; r < regions; r++) {
      const most = Math.min(this.#enough, counts[r]! + left[r]!);
      if (most < this.#enough && hundred * most < share * (stopped + left[r]!)) return;
    }
    const state = memory * this.#lattice.slots[t]!.placements.length + placement;
    const key = counts.reduce((sum, one) => sum * (this.#enough + 1) + one, state * this.#base + stopped);
    const known = labels.get(key);
    if (!known || worth < known.worth)
      labels.set(key, { state, placement, memory, worth, slack, counts, stopped, from });
  }
}

/** Gaps that are tried, of the whole one. */
const gaps = [1 / 64, 1 / 8, 1];

/**
 * @param search for a path that has the shares, asked where prices find none
 * @returns null where no path has the shares; undefined where none was found and it is not known whether there is one
 */
export function leastWithShares(
  lattice: Lattice,
  values: Values,
  shares: Shares,
  search: () => Path | null,
): Shared | null | undefined {
  const start = findPrices(lattice, values, shares);
  if (!start) return null;
  const { best } = start;
  let { found } = start;
  if (!found) {
    const path = search();
    found = path && { path, worth: values.worthOf(path) };
  }
  const labels = new Labels(lattice, values, shares, best);
  const whole = found ? found.worth - best.least : Number.POSITIVE_INFINITY;
  for (const part of whole > 0 && Number.isFinite(whole) ? gaps : [1]) {
    const gap = whole * part;
    if (found && found.worth - best.least <= gap && part < 1) break;
    const within = whole === 0 ? found : labels.within(gap);
    if (within === undefined) break;
    if (within && (!found || within.worth < found.worth)) found = within;
    if (!found) return null;
    if (found.worth - best.least <= gap) return { path: found.path, over: 0 };
  }
  return found ? { path: found.path, over: found.worth - best.least } : undefined;
}
