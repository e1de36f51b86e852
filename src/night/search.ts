// One price for a minute in a region, for the whole night. At a price every tune is a problem of its own, solved exactly; the
// price rises until the wish holds, then comes down by halving the stretch between a price that is too low and one that is
// enough (Lagrangian relaxation; Everett 1963, Operations Research 11(3), for why any such plan is best for what it uses).
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
const doublings = 8;
export const largestPrice = firstPrice * 2 ** doublings;
const halvings = 7;
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

export function findPrices(
  tunes: number,
  wishes: readonly PricedWish[],
  solve: SolveTune,
  watch: (done: number) => void = () => undefined,
): Found {
  const all = Array.from({ length: tunes }, (_, tune) => tune);
  const steps: PriceStep[] = [];
  const expected = (1 + doublings + halvings) * Math.max(1, wishes.length);
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
  const settle = (at: number, prices: Prices, zero: Night): Priced => {
    const wish = wishes[at]!;
    const withPrice = (price: number): Prices => prices.map((one, other) => (other === at ? price : one));
    const holds = (night: Night): boolean => excessOf(wish, night) <= tolerance;
    const tell = (price: number, night: Night): Priced => {
      steps.push({ wish: at, price, minutes: sumOf(night, ({ minutes }) => minutes[wish.region]) });
      return { price, night };
    };
    let low = tell(0, zero);
    if (holds(zero)) return low;
    let price = firstPrice;
    let high = tell(price, solveAll(withPrice(price), unknown));
    while (!holds(high.night) && price < largestPrice) {
      price *= 2;
      low = high;
      high = tell(price, solveAll(withPrice(price), unknown));
    }
    if (!holds(high.night)) return high;
    /** Halves the stretch; `mayKnow` lets a line stand for the prices between two at which it is the best. */
    const halve = (mayKnow: boolean): Priced => {
      let [below, above] = [low, high];
      for (let step = 0; step < halvings; step++) {
        const middle = (below.price + above.price) / 2;
        const known = (tune: number): Solved | null | undefined => {
          const [one, other] = [below.night[tune]!, above.night[tune]!];
          if (one === null || other === null) return null;
          const isSame = loadIn(wish, one) === loadIn(wish, other) && one.cost === other.cost;
          return mayKnow && isSame ? other : undefined;
        };
        const between = tell(middle, solveAll(withPrice(middle), known));
        if (holds(between.night)) above = between;
        else below = between;
      }
      return above;
    };
    const { price: least } = halve(true);
    // What stood for itself bears its price only when it is solved at it.
    const night = solveAll(withPrice(least), unknown);
    return holds(night) ? { price: least, night } : halve(false);
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
      const settled = settle(at, others, zero);
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
