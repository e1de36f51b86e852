// The order of the tunes in a set: no long run in one region across a join, heavy tunes apart, no key twice in a row, small
// jumps of tempo. What counts before what is common practice, no source.
//
// Up to eight tunes every order is compared, so the answer is the best one; beyond that, orders are made better by moving one
// tune or changing two places until neither helps, from a few beginnings, and the answer is the best that was found.
import { regions, type Region } from '../instrument';
import type { Bpm, Key } from '../music';
import type { Stay, TunePlan } from './types';

/** What an order looks at. */
export interface OrderTune {
  readonly key: Key | null;
  readonly tempo: Bpm | null;
  /** Where the tune's first and last stays are, null where it begins or ends open. */
  readonly ends: { readonly first: Stay | null; readonly last: Stay | null };
  /** Minutes by region. */
  readonly minutes: Readonly<Record<Region, number>>;
}

export const orderTuneOf = ({ key, tempo, ends, measure }: TunePlan): OrderTune => ({
  key,
  tempo,
  ends,
  minutes: measure.byRegion,
});

/** What an order comes to; the earlier counts more. */
export interface OrderScore {
  /** Seconds of the longest run in one region across a join. */
  readonly run: number;
  /** The most minutes in one region of two tunes side by side. */
  readonly heavy: number;
  /** Joins at which the key stays. */
  readonly sameKeys: number;
  /** Jumps of tempo, in octaves, added up. */
  readonly jumps: number;
}

export interface Pinned {
  /** Tunes, by index, that stay at the beginning and the end. */
  readonly first: number | null;
  readonly last: number | null;
}

export interface SetOrder {
  /** Indices of the tunes as given. */
  readonly order: readonly number[];
  readonly score: OrderScore;
  /** All orders were compared; else it is the best that was found. */
  readonly isExact: boolean;
}

/** Tunes up to which all orders are compared. */
export const mostExact = 8;

const isSameKey = (a: Key | null, b: Key | null): boolean =>
  a !== null && b !== null && a.tonic === b.tonic && a.mode === b.mode;

function joinScore(a: OrderTune, b: OrderTune): OrderScore {
  const isRun = a.ends.last !== null && a.ends.last.region === b.ends.first?.region;
  return {
    run: isRun ? a.ends.last.seconds + b.ends.first.seconds : 0,
    heavy: Math.max(...regions.map((region) => a.minutes[region] + b.minutes[region])),
    sameKeys: isSameKey(a.key, b.key) ? 1 : 0,
    jumps: a.tempo !== null && b.tempo !== null ? Math.abs(Math.log2(a.tempo / b.tempo)) : 0,
  };
}

const noScore: OrderScore = { run: 0, heavy: 0, sameKeys: 0, jumps: 0 };

const joined = (a: OrderScore, b: OrderScore): OrderScore => ({
  run: Math.max(a.run, b.run),
  heavy: Math.max(a.heavy, b.heavy),
  sameKeys: a.sameKeys + b.sameKeys,
  jumps: a.jumps + b.jumps,
});

/** Sums in another order differ in their last digits. */
const closeness = 1e-9;

/** Below nought when the first is better. */
export function compareScores(a: OrderScore, b: OrderScore): number {
  for (const part of ['run', 'heavy', 'sameKeys', 'jumps'] as const) {
    const difference = a[part] - b[part];
    if (Math.abs(difference) > closeness) return difference;
  }
  return 0;
}

export function orderScore(tunes: readonly OrderTune[], order: readonly number[]): OrderScore {
  return order
    .slice(1)
    .reduce((sum, tune, at) => joined(sum, joinScore(tunes[order[at]!]!, tunes[tune]!)), noScore);
}

/** A beginning with what is left, tried on in the order of the tunes, so that of equals the one as given wins. */
function tryAll(
  joins: readonly (readonly OrderScore[])[],
  begun: readonly number[],
  { last }: Pinned,
): number[] {
  let best: { order: number[]; score: OrderScore } | null = null;
  const visit = (order: number[], score: OrderScore, left: readonly number[]): void => {
    // No part of a score ever falls as tunes are added.
    if (best && compareScores(score, best.score) >= 0) return;
    if (left.length === 0) {
      best = { order, score };
      return;
    }
    for (const tune of left) {
      if (tune === last && left.length > 1) continue;
      const before = order.at(-1);
      const next = before === undefined ? score : joined(score, joins[before]![tune]!);
      visit(
        [...order, tune],
        next,
        left.filter((one) => one !== tune),
      );
    }
  };
  visit(
    [...begun],
    noScore,
    [...joins.keys()].filter((tune) => !begun.includes(tune)),
  );
  return (best as { order: number[] } | null)?.order ?? [];
}

/** Every order that comes of moving one tune elsewhere or of changing two, pinned ones left where they are. */
function* neighbours(order: readonly number[], { first, last }: Pinned): Generator<number[]> {
  const from = first === null ? 0 : 1;
  const to = order.length - (last === null ? 0 : 1);
  for (let a = from; a < to; a++) {
    for (let b = from; b < to; b++) {
      if (a === b) continue;
      const moved = order.filter((_, at) => at !== a);
      moved.splice(b, 0, order[a]!);
      yield moved;
      if (a > b) continue;
      const changed = [...order];
      [changed[a], changed[b]] = [changed[b]!, changed[a]!];
      yield changed;
    }
  }
}

function improve(tunes: readonly OrderTune[], begin: readonly number[], pinned: Pinned): readonly number[] {
  let order = begin;
  let score = orderScore(tunes, order);
  for (let isBetter = true; isBetter;) {
    isBetter = false;
    for (const other of neighbours(order, pinned)) {
      const found = orderScore(tunes, other);
      if (compareScores(found, score) >= 0) continue;
      order = other;
      score = found;
      isBetter = true;
      break;
    }
  }
  return order;
}

/** As given, and from each tune on the one that joins best next. */
function beginnings(joins: readonly (readonly OrderScore[])[], { first, last }: Pinned): readonly number[][] {
  const all = [...joins.keys()];
  const greedyFrom = (start: number): number[] => {
    const order = [start];
    while (order.length < all.length) {
      const left = all.filter(
        (tune) => !order.includes(tune) && (tune !== last || order.length === all.length - 1),
      );
      const row = joins[order.at(-1)!]!;
      order.push(left.reduce((best, tune) => (compareScores(row[tune]!, row[best]!) < 0 ? tune : best)));
    }
    return order;
  };
  const middle = all.filter((tune) => tune !== first && tune !== last);
  const given = [...(first === null ? [] : [first]), ...middle, ...(last === null ? [] : [last])];
  return [given, ...(first === null ? middle : [first]).map(greedyFrom)];
}

/** The best order of a set; of equals the first in the order as given. A tune pinned to both ends stays first. */
export function orderSet(tunes: readonly OrderTune[], wanted: Pinned): SetOrder {
  const last = wanted.last === wanted.first ? null : wanted.last;
  const pinned = { first: wanted.first, last };
  const joins = tunes.map((a) => tunes.map((b) => joinScore(a, b)));
  const isExact = tunes.length <= mostExact;
  const order = isExact
    ? tryAll(joins, pinned.first === null ? [] : [pinned.first], pinned)
    : beginnings(joins, pinned)
        .map((begin) => improve(tunes, begin, pinned))
        .reduce((best, one) =>
          compareScores(orderScore(tunes, one), orderScore(tunes, best)) < 0 ? one : best,
        );
  return { order, score: orderScore(tunes, order), isExact };
}
