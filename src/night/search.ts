// One price for a minute in a region, for the whole night. At a price every tune is a problem of its own, solved exactly; the
// price rises until the wish holds, then closes in between one that is too low and one that is enough (Lagrangian relaxation;
// Everett 1963, Operations Research 11(3), for why any such plan is best for what it uses). Every line of a tune that was met
// tells at most what that tune costs at any price: the price tried next is the least at which the best of the lines met so far
// keep the wish (see cuts).
//
// With cost c of the plan, load d and most load b at price p, no night that keeps the wish costs less than the sum of the
// tunes' least priced costs less p * b. The distance from there to c is the gap that is told; in it is what a line costs over
// the least where a tune has largest shares of its own. Prices are rounded down note by note (see pipeline/problem/prices), which
// can only lower the bound, never break it.
import type { Bpm } from '../music';
import { isKept, sumOf, type SolvedNight } from './loads';
import type { PricedWish } from './price';
import { firstPrice, settle, type KnownTune } from './settle';
import type { SolvedTune, WishPrices } from './tune';
import type { PriceStep } from './types';

/** A tune under any prices; null where it has no line. */
export type SolveTune = (tune: number, prices: WishPrices) => SolvedTune | null;

/** Prices a wish usually takes, for telling how far the search has come. */
const usualPrices = 6;
/** Passes over all wishes: a price on one region sends the hand into another, which may have a wish of its own. */
const rounds = 4;

export interface Found {
  readonly prices: WishPrices;
  readonly solved: SolvedNight;
  readonly steps: readonly PriceStep[];
  /** Wishes, by index, that do not hold at any price, each with the nearest load that was found. */
  readonly missed: ReadonlyMap<number, number>;
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

  const solveAll = (prices: WishPrices, known?: KnownTune): SolvedNight => {
    const night = all.map((tune) => {
      const found = known?.(tune);
      watch(Math.min(1, (nights + tune / all.length) / expected));
      return found === undefined ? solve(tune, prices) : found;
    });
    nights++;
    return night;
  };
  let prices: WishPrices = wishes.map(() => 0);
  let night = solveAll(prices);
  const missed = new Map<number, number>();
  for (let round = 0; round < rounds; round++) {
    for (const at of wishes.keys()) {
      if (missed.has(at)) continue;
      const others = prices.with(at, 0);
      const isBare = others.every((price) => price === 0);
      if (round > 0 && isKept(wishes[at]!, night)) continue;
      const zero = isBare && round === 0 && at === 0 ? night : solveAll(others);
      const guess = prices[at]! > 0 ? prices[at]! * 1.5 : firstPrice;
      const parts = {
        tempos,
        wishes,
        at,
        prices: others,
        solveAll,
        onstep: (step: PriceStep) => steps.push(step),
      };
      const settled = settle(parts, zero, guess);
      if (!isKept(wishes[at]!, settled.night)) {
        missed.set(
          at,
          sumOf(settled.night, ({ minutes }) => minutes[wishes[at]!.region]),
        );
        night = zero;
        prices = others;
      } else {
        night = settled.night;
        prices = others.with(at, settled.price);
      }
    }
    const kept = wishes.filter((_, at) => !missed.has(at));
    if (kept.every((wish) => isKept(wish, night))) break;
  }
  return { prices, solved: night, steps, missed };
}
