// One price for a minute in a region, for the whole night. At a price every tune is a problem of its own, solved exactly; the
// price rises until the wish holds, then closes in between one that is too low and one that is enough (Lagrangian relaxation;
// Everett 1963, Operations Research 11(3), for why any such plan is best for what it uses). Every line of a tune that was met
// tells at most what that tune costs at any price: the price tried next is the least at which the best of the lines met so far
// keep the wish (cutting planes, Kelley 1960, Journal of SIAM 8(4); a cut for each tune of its own, Birge and Louveaux
// 1988, European Journal of Operational Research 34(3)).
//
// With cost c of the plan, load d and most load b at price p, no night that keeps the wish costs less than the sum of the
// tunes' least priced costs less p * b. The distance from there to c is the gap that is told; in it is what a line costs over
// the least where a tune has largest shares of its own. Prices are rounded down note by note (see pipeline/prices), which
// can only lower the bound, never break it.
import type { Bpm } from '../music';
import { mostLoad, loadOf, type PricedWish } from './price';
import type { WishPrices, SolvedTune } from './tune';
import type { PriceStep } from './types';

/** A tune under any prices; null where it has no line. */
export type SolveTune = (tune: number, prices: WishPrices) => SolvedTune | null;

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
/** How far above the price at which two lines cost the same, as a part of the stretch to the one that is surely enough. */
const aLittle = 1 / 64;
/** Steps of the search among lines met before, which solve nothing. */
const halvings = 30;
/** Prices a wish usually takes, for telling how far the search has come. */
const usualPrices = 6;
/** Passes over all wishes: a price on one region sends the hand into another, which may have a wish of its own. */
const rounds = 4;
/** Minutes within which a wish holds: what is lost in sums. */
export const tolerance = 1e-9;

export interface Found {
  readonly prices: WishPrices;
  readonly solved: readonly (SolvedTune | null)[];
  readonly steps: readonly PriceStep[];
  /** Wishes, by index, that do not hold at any price, each with the nearest load that was found. */
  readonly missed: ReadonlyMap<number, number>;
}

type Night = readonly (SolvedTune | null)[];

export const sumOf = (night: Night, valueOf: (solved: SolvedTune) => number): number =>
  night.reduce((sum, solved) => sum + (solved ? valueOf(solved) : 0), 0);

const loadIn = (wish: PricedWish, solved: SolvedTune): number =>
  loadOf(wish, solved.minutes[wish.region], solved.played);

/** How far a night is over the most load of a wish, in minutes; up to nought where it holds. */
export const excessOf = (wish: PricedWish, night: Night): number =>
  sumOf(night, (solved) => loadIn(wish, solved)) -
  mostLoad(
    wish,
    sumOf(night, ({ played }) => played),
  );

/** How far the night can be from the best one that keeps the wishes. @returns cost units, never below nought where they hold */
export const gapOf = (wishes: readonly PricedWish[], night: Night, prices: WishPrices): number => {
  const played = sumOf(night, (solved) => solved.played);
  const most = wishes.reduce((sum, wish, at) => sum + prices[at]! * mostLoad(wish, played), 0);
  return most - sumOf(night, ({ borne, over }) => borne - over);
};

/** A price with the night that it gives. */
interface Priced {
  readonly price: number;
  readonly night: Night;
}

/** A line of a tune that was met, as a price sees it: what it bears of the load, and what it costs besides. */
interface Cut {
  readonly load: number;
  readonly cost: number;
}

const isSameCut = (a: Cut, b: Cut | null): boolean => a.load === b?.load && a.cost === b.cost;

/** The least of what the cuts come to at a price; of equal ones that with the least load. */
function cheapestAt(cuts: readonly Cut[], price: number): Cut | null {
  let best: Cut | null = null;
  for (const cut of cuts) {
    const difference = best === null ? -1 : cut.cost - best.cost + price * (cut.load - best.load);
    if (difference < 0 || (difference === 0 && cut.load < best!.load)) best = cut;
  }
  return best;
}

/** What a price for a minute is when it is laid on beats in whole cost units. */
const laidPrice = (price: number, tempo: Bpm): number => Math.floor(price / tempo) * tempo;

/**
 * The least price between two, near enough, at which the lines met so far keep a most load.
 * @param cuts by tune
 */
function crossingPrice(
  cuts: readonly (readonly Cut[])[],
  tempos: readonly Bpm[],
  most: number,
  low: number,
  high: number,
): number {
  const loadAt = (price: number): number =>
    cuts.reduce((sum, own, tune) => sum + (cheapestAt(own, laidPrice(price, tempos[tune]!))?.load ?? 0), 0);
  const isKept = (price: number): boolean => loadAt(price) <= most + tolerance;
  let [below, above] = [low, high];
  for (let halved = 0; halved < halvings; halved++) {
    const middle = (below + above) / 2;
    if (isKept(middle)) above = middle;
    else below = middle;
  }
  return above;
}

/** @param tempos one a tune */
export function findPrices(
  tempos: readonly Bpm[],
  wishes: readonly PricedWish[],
  solve: SolveTune,
  watch: (done: number) => void = () => undefined,
): Found {
  const all = [...tempos.keys()];
  const steps: PriceStep[] = [];
  const expected = usualPrices * Math.max(1, wishes.length);
  let nights = 0;

  const solveAll = (prices: WishPrices, known: (tune: number) => SolvedTune | null | undefined): Night => {
    const night = all.map((tune) => {
      const found = known(tune);
      watch(Math.min(1, (nights + tune / all.length) / expected));
      return found === undefined ? solve(tune, prices) : found;
    });
    nights++;
    return night;
  };
  const unknown = (): undefined => undefined;

  /** The least price that keeps one wish, the others at their prices; the largest where none does. */
  const settle = (at: number, prices: WishPrices, zero: Night, guess: number): Priced => {
    const wish = wishes[at]!;
    const withPrice = (price: number): WishPrices => prices.map((one, other) => (other === at ? price : one));
    const holds = (night: Night): boolean => excessOf(wish, night) <= tolerance;
    const cutOf = (solved: SolvedTune): Cut => ({
      load: loadIn(wish, solved),
      cost: wishes.reduce(
        (sum, one, other) => sum + (other === at ? 0 : prices[other]! * loadIn(one, solved)),
        solved.cost,
      ),
    });
    const otherwise = (night: Night): number => sumOf(night, (solved) => cutOf(solved).cost);
    const cuts = all.map((): Cut[] => []);
    const meet = (price: number, night: Night): Priced => {
      steps.push({ wish: at, price, minutes: sumOf(night, ({ minutes }) => minutes[wish.region]) });
      night.forEach((solved, tune) => {
        if (solved) cuts[tune]!.push(cutOf(solved));
      });
      return { price, night };
    };
    let low = meet(0, zero);
    if (holds(zero)) return low;
    const excess = ({ night }: Priced): number => excessOf(wish, night);
    /** Where the wish would just hold if minutes fell in a straight line from one price to the other. */
    const priceAtBound = (one: Priced, other: Priced): number =>
      one.price +
      ((other.price - one.price) * excess(one)) / Math.max(tolerance, excess(one) - excess(other));
    let price = guess;
    let high = meet(price, solveAll(withPrice(price), unknown));
    while (!holds(high.night) && price < largestPrice) {
      const further = Math.max(
        leastGrowth * price,
        Math.min(growth * price, beyond * priceAtBound(low, high)),
      );
      price = Math.min(largestPrice, further);
      low = high;
      high = meet(price, solveAll(withPrice(price), unknown));
    }
    if (!holds(high.night)) return high;
    const isNear = (below: Priced, { price, night }: Priced): boolean =>
      price - below.price <= unspent * price ||
      -price * excessOf(wish, night) <= unspent * (otherwise(night) - otherwise(zero));
    let [below, above] = [low, high];
    const played = sumOf(zero, (solved) => solved.played);
    let isStuck = false;
    for (let step = 0; step < mostBetween && !isNear(below, above); step++) {
      const crossing = crossingPrice(cuts, tempos, mostLoad(wish, played), below.price, above.price);
      // There two lines of a tune cost the same: a little above, the one with less of the load is the best. A tune whose line is
      // not quite the least, for what a line may not repeat, need not change there: then half way.
      // Nearer to either than a part of what is near enough would tell little.
      const apart = (unspent / 4) * above.price;
      const wanted = crossing + (above.price - crossing) * aLittle;
      const price = isStuck
        ? (below.price + above.price) / 2
        : Math.min(above.price - apart, Math.max(below.price + apart, wanted));
      // A line stands for the prices between two at which it is the best.
      const known = (tune: number): SolvedTune | null | undefined => {
        const [one, other] = [below.night[tune]!, above.night[tune]!];
        if (one === null || other === null) return null;
        return loadIn(wish, one) === loadIn(wish, other) && one.cost === other.cost ? other : undefined;
      };
      const guessed = all.map((tune) => cheapestAt(cuts[tune]!, laidPrice(price, tempos[tune]!)));
      const between = meet(price, solveAll(withPrice(price), known));
      isStuck = excess(between) === excess(below) || excess(between) === excess(above);
      if (holds(between.night)) above = between;
      else below = between;
      // No better line was met there: the price is the least there is.
      const isLast = between.night.every(
        (solved, tune) => solved === null || isSameCut(cutOf(solved), guessed[tune]!),
      );
      if (isLast && above === between) break;
    }
    // What stood for itself bears its price only when it is solved at it.
    for (const price of new Set([above.price, high.price])) {
      const night = solveAll(withPrice(price), unknown);
      if (holds(night)) return { price, night };
    }
    return high;
  };

  let prices: WishPrices = wishes.map(() => 0);
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
