// What the tunes of a night come to under their prices: minutes in a region against the most a wish allows.
import { mostLoad, loadOf, type PricedWish } from './price';
import type { WishPrices, SolvedTune } from './tune';

/** The tunes of a night as they are solved under the same prices; null where a tune has no line. */
export type SolvedNight = readonly (SolvedTune | null)[];

/** Minutes within which a wish holds: what is lost in sums. */
export const tolerance = 1e-9;

export const sumOf = (night: SolvedNight, valueOf: (solved: SolvedTune) => number): number =>
  night.reduce((sum, solved) => sum + (solved ? valueOf(solved) : 0), 0);

/** What a tune bears of the load of a wish, in minutes. */
export const loadIn = (wish: PricedWish, solved: SolvedTune): number =>
  loadOf(wish, solved.minutes[wish.region], solved.played);

/** How far a night is over the most load of a wish, in minutes; up to nought where it holds. */
export const excessOf = (wish: PricedWish, night: SolvedNight): number =>
  sumOf(night, (solved) => loadIn(wish, solved)) -
  mostLoad(
    wish,
    sumOf(night, ({ played }) => played),
  );

export const isKept = (wish: PricedWish, night: SolvedNight): boolean => excessOf(wish, night) <= tolerance;

/** How far the night can be from the best one that keeps the wishes. @returns cost units, never below nought where they hold */
export const gapOf = (wishes: readonly PricedWish[], night: SolvedNight, prices: WishPrices): number => {
  const played = sumOf(night, (solved) => solved.played);
  const most = wishes.reduce((sum, wish, at) => sum + prices[at]! * mostLoad(wish, played), 0);
  return most - sumOf(night, ({ borne, over }) => borne - over);
};
