// One price for a minute in a region, for the whole night. At a price every tune is a problem of its own, solved exactly; the
// price rises until the wish holds, then closes in between a price that is too low and one that is enough, from one meeting
// of tangents to the next (Lagrangian relaxation; Everett 1963, Operations Research 11(3), for why any such plan is best for what it uses).
//
// With cost c of the plan, load d and most load b at price p, no night that keeps the wish costs less than the sum of the
// tunes' least priced costs less p * b. The distance from there to c is the gap that is told; in it is what a line costs over
// the least where a tune has largest shares of its own. Prices are rounded down note by note (see pipeline/prices), which
// can only lower the bound, never break it.
import { boundOf, loadOf, type PricedWish } from './price';
import type { Prices, Solved } from './tune';
import type { PriceStep } from './types';

/** A tune under any prices; null where it has no line. */
export type SolveTune = (tune: number, prices: Prices) => Solved | null;

/** Cost units a minute: a first price, and one that outweighs whatever a line would give for staying. */
const firstPrice = 8_000;
export const largestPrice = 256 * firstPrice;
/** How far a price goes up at least and at most when it is too low, and how far beyond where a straight line says. */
const leastGrowth = 1.3;
const growth = 8;
const beyond = 1.1;
/** Prices tried between one that is too low and one that is enough. */
const mostBetween = 12;
/** Good enough: what the plan could cost less is so small a part of what its wish costs. */
const unspent = 0.02;
/** How far above the price at which two nights cost the same, as a part of the stretch to the one that is surely enough. */
const aLittle = 1 / 64;
/** Prices a wish usually takes, for telling how far the search has come. */
const usualPrices = 6;
/** Passes over all wishes: a price on one region sends the hand into another, which may have a wish of its own. */
const rounds = 4;
/** Minutes within which a wish holds: what is lost in sums. */
export const tolerance = 1e-9;

export interface Found {
  readonly prices: Prices;
  readonly solved: readonly (Solved | null)[];
  readonly steps: readonly PriceStep[];
  /** Wishes, by index, that do not hold at any price, each with the nearest load that was found. */
  readonly missed: ReadonlyMap<number, number>;
}

type Night = readonly (Solved | null)[];

export const sumOf = (night: Night, valueOf: (solved: Solved) => number): number =>
  night.reduce((sum, solved) => sum + (solved ? valueOf(solved) : 0), 0);

const loadIn = (wish: PricedWish, solved: Solved): number =>
  loadOf(wish, solved.minutes[wish.region], solved.played);

/** How far a night is over the most load of a wish, in minutes; up to nought where it holds. */
export const excessOf = (wish: PricedWish, night: Night): number =>
  sumOf(night, (solved) => loadIn(wish, solved)) -
  boundOf(
    wish,
    sumOf(night, ({ played }) => played),
  );

/** How far the night can be from the best one that keeps the wishes. @returns cost units, never below nought where they hold */
export const gapOf = (wishes: readonly PricedWish[], night: Night, prices: Prices): number => {
  const played = sumOf(night, (solved) => solved.played);
  const most = wishes.reduce((sum, wish, at) => sum + prices[at]! * boundOf(wish, played), 0);
  return most - sumOf(night, ({ borne, over }) => borne - over);
};

/** A price with the night that it gives. */
interface Priced {
  readonly price: number;
  readonly night: Night;
}

const isSameNight = (a: Night, b: Night): boolean =>
  a.every((one, tune) => one?.cost === b[tune]?.cost && one?.played === b[tune]?.played);

/**
 * Where two nights cost the same. What the best night costs at a price is a concave curve made of straight pieces; the
 * tangents at two prices meet at the next price worth trying, and where the best night is one of the two, none lies between
 * (Eisner and Severance 1976, Journal of the ACM 23(4)).
 * @param otherwise what a night costs with everything but the price of this wish
 * @returns null where they meet nowhere between
 */
function meetingPrice(
  wish: PricedWish,
  low: Priced,
  high: Priced,
  otherwise: (night: Night) => number,
): number | null {
  const [most, least] = [low, high].map(({ night }) => sumOf(night, (solved) => loadIn(wish, solved)));
  if (most! - least! <= tolerance) return null;
  const price = (otherwise(high.night) - otherwise(low.night)) / (most! - least!);
  return price > low.price && price < high.price ? price : null;
}

export function findPrices(
  tunes: number,
  wishes: readonly PricedWish[],
  solve: SolveTune,
  watch: (done: number) => void = () => undefined,
): Found {
  const all = Array.from({ length: tunes }, (_, tune) => tune);
  const steps: PriceStep[] = [];
  const expected = usualPrices * Math.max(1, wishes.length);
  let nights = 0;

  const solveAll = (prices: Prices, known: (tune: number) => Solved | null | undefined): Night => {
    const night = all.map((tune) => {
      const found = known(tune);
      watch(Math.min(1, (nights + tune / tunes) / expected));
      return found === undefined ? solve(tune, prices) : found;
    });
    nights++;
    return night;
  };
  const unknown = (): undefined => undefined;

  /** The least price that keeps one wish, the others at their prices; the largest where none does. */
  const settle = (at: number, prices: Prices, zero: Night, guess: number): Priced => {
    const wish = wishes[at]!;
    const withPrice = (price: number): Prices => prices.map((one, other) => (other === at ? price : one));
    const holds = (night: Night): boolean => excessOf(wish, night) <= tolerance;
    const tell = (price: number, night: Night): Priced => {
      steps.push({ wish: at, price, minutes: sumOf(night, ({ minutes }) => minutes[wish.region]) });
      return { price, night };
    };
    let low = tell(0, zero);
    if (holds(zero)) return low;
    const excess = ({ night }: Priced): number => excessOf(wish, night);
    /** Where the wish would just hold if minutes fell in a straight line from one price to the other. */
    const priceAtBound = (one: Priced, other: Priced): number =>
      one.price +
      ((other.price - one.price) * excess(one)) / Math.max(tolerance, excess(one) - excess(other));
    let price = guess;
    let high = tell(price, solveAll(withPrice(price), unknown));
    while (!holds(high.night) && price < largestPrice) {
      const further = Math.max(
        leastGrowth * price,
        Math.min(growth * price, beyond * priceAtBound(low, high)),
      );
      price = Math.min(largestPrice, further);
      low = high;
      high = tell(price, solveAll(withPrice(price), unknown));
    }
    if (!holds(high.night)) return high;
    const otherwise = (night: Night): number =>
      sumOf(night, (solved) =>
        wishes.reduce(
          (sum, one, other) => sum + (other === at ? 0 : prices[other]! * loadIn(one, solved)),
          solved.cost,
        ),
      );
    const isNear = (below: Priced, { price, night }: Priced): boolean =>
      price - below.price <= unspent * price ||
      -price * excessOf(wish, night) <= unspent * (otherwise(night) - otherwise(zero));
    let [below, above] = [low, high];
    /** A price that may be enough, between one that is not and one that is. */
    let least = high.price;
    for (let step = 0; step < mostBetween && !isNear(below, above); step++) {
      const meeting = meetingPrice(wish, below, above, otherwise);
      // By turns: straight for the wish, which is quick, and the meeting point, which comes to an end; the middle where what
      // a line is rounded by puts that outside.
      const isMeeting = step % 2 === 1 && meeting !== null;
      const price = isMeeting
        ? meeting
        : step % 2 === 0
          ? priceAtBound(below, above)
          : (below.price + above.price) / 2;
      // A line stands for the prices between two at which it is the best.
      const known = (tune: number): Solved | null | undefined => {
        const [one, other] = [below.night[tune]!, above.night[tune]!];
        if (one === null || other === null) return null;
        return loadIn(wish, one) === loadIn(wish, other) && one.cost === other.cost ? other : undefined;
      };
      const between = tell(price, solveAll(withPrice(price), known));
      const isLast = isMeeting && [below, above].some(({ night }) => isSameNight(night, between.night));
      if (holds(between.night)) above = between;
      else below = between;
      least = above.price;
      // There both nights cost the same: a little above, the one that keeps the wish is the best.
      if (isLast) least = below.price + (above.price - below.price) * aLittle;
      if (isLast) break;
    }
    // What stood for itself bears its price only when it is solved at it.
    for (const price of new Set([least, above.price, high.price])) {
      const night = solveAll(withPrice(price), unknown);
      if (holds(night)) return { price, night };
    }
    return high;
  };

  let prices: Prices = wishes.map(() => 0);
  let night = solveAll(prices, unknown);
  const missed = new Map<number, number>();
  for (let round = 0; round < rounds; round++) {
    for (const at of wishes.keys()) {
      if (missed.has(at)) continue;
      const others = prices.map((price, other) => (other === at ? 0 : price));
      const isBare = others.every((price) => price === 0);
      if (round > 0 && excessOf(wishes[at]!, night) <= tolerance) continue;
      const zero = isBare && round === 0 && at === 0 ? night : solveAll(others, unknown);
      const settled = settle(at, others, zero, prices[at]! > 0 ? prices[at]! * 1.5 : firstPrice);
      if (excessOf(wishes[at]!, settled.night) > tolerance) {
        missed.set(
          at,
          sumOf(settled.night, ({ minutes }) => minutes[wishes[at]!.region]),
        );
        night = zero;
        prices = others;
      } else {
        night = settled.night;
        prices = others.map((price, other) => (other === at ? settled.price : price));
      }
    }
    const kept = wishes.filter((_, at) => !missed.has(at));
    if (kept.every((wish) => excessOf(wish, night) <= tolerance)) break;
  }
  return { prices, solved: night, steps, missed };
}
