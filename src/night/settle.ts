// The least price that keeps one wish, the others at their prices: it rises until the wish holds, then closes in between one
// that is too low and one that is enough.
import type { Bpm } from '../music';
import { cheapestAt, crossingPrice, isSameCut, laidPrice, type Cut } from './cuts';
import { excessOf, isKept, loadIn, sumOf, tolerance, type SolvedNight } from './loads';
import { mostLoad, type PricedWish } from './price';
import type { SolvedTune, WishPrices } from './tune';
import type { PriceStep } from './types';

/** Cost units a minute: a first price, and one that outweighs whatever a line would give for staying. */
export const firstPrice = 8_000;
const largestPrice = 256 * firstPrice;
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

/** A tune whose answer is known is not solved again; undefined where it is not known. */
export type KnownTune = (tune: number) => SolvedTune | null | undefined;

export interface SettleParts {
  /** One a tune. */
  readonly tempos: readonly Bpm[];
  readonly wishes: readonly PricedWish[];
  /** The wish that is settled, by index. */
  readonly at: number;
  /** Prices of the others; its own is 0. */
  readonly prices: WishPrices;
  readonly solveAll: (prices: WishPrices, known?: KnownTune) => SolvedNight;
  /** Told of every price that was tried. */
  readonly onstep: (step: PriceStep) => void;
}

/** A price with the night that it gives. */
export interface PricedNight {
  readonly price: number;
  readonly night: SolvedNight;
}

class Settling {
  readonly #parts: SettleParts;
  readonly #wish: PricedWish;
  /** By tune. */
  readonly #cuts: readonly Cut[][];

  constructor(parts: SettleParts) {
    this.#parts = parts;
    this.#wish = parts.wishes[parts.at]!;
    this.#cuts = parts.tempos.map(() => []);
  }

  /** The nights at a price that is too low and at the next that was enough, or at the largest where none is. */
  rise(zero: PricedNight, guess: number): { readonly low: PricedNight; readonly high: PricedNight } {
    let low = zero;
    let high = this.#solveAt(guess);
    while (!isKept(this.#wish, high.night) && high.price < largestPrice) {
      const further = Math.max(
        leastGrowth * high.price,
        Math.min(growth * high.price, beyond * this.#priceAtBound(low, high)),
      );
      low = high;
      high = this.#solveAt(Math.min(largestPrice, further));
    }
    return { low, high };
  }

  /** The least price that was found to be enough between one that is not and one that is. */
  closeIn(zero: PricedNight, low: PricedNight, high: PricedNight): PricedNight {
    let [below, above] = [low, high];
    let isStuck = false;
    for (let step = 0; step < mostBetween && !this.#isNear(zero, below, above); step++) {
      const price = isStuck ? (below.price + above.price) / 2 : this.#priceBetween(zero, below, above);
      const guessed = this.#parts.tempos.map((tempo, tune) =>
        cheapestAt(this.#cuts[tune]!, laidPrice(price, tempo)),
      );
      const between = this.#solveAt(price, this.#standing(below, above));
      isStuck = [below, above].some((one) => this.#excess(between) === this.#excess(one));
      const isEnough = isKept(this.#wish, between.night);
      if (isEnough) above = between;
      else below = between;
      // No better line was met there: the price is the least there is.
      const isLast = between.night.every(
        (solved, tune) => solved === null || isSameCut(this.#cutOf(solved), guessed[tune]!),
      );
      if (isLast && isEnough) break;
    }
    return above;
  }

  /** A night solved at a price, not told as a step. */
  whole(price: number, known?: KnownTune): PricedNight {
    const { at, prices, solveAll } = this.#parts;
    return { price, night: solveAll(prices.with(at, price), known) };
  }

  /** Keeps what a price gave. */
  meet(price: number, night: SolvedNight): PricedNight {
    const { at, onstep } = this.#parts;
    onstep({ wish: at, price, minutes: sumOf(night, ({ minutes }) => minutes[this.#wish.region]) });
    night.forEach((solved, tune) => {
      if (solved) this.#cuts[tune]!.push(this.#cutOf(solved));
    });
    return { price, night };
  }

  #solveAt(price: number, known?: KnownTune): PricedNight {
    const { night } = this.whole(price, known);
    return this.meet(price, night);
  }

  #excess({ night }: PricedNight): number {
    return excessOf(this.#wish, night);
  }

  /** What a line bears of the wish, and what it costs with the prices of the others. */
  #cutOf(solved: SolvedTune): Cut {
    const { wishes, at, prices } = this.#parts;
    return {
      load: loadIn(this.#wish, solved),
      cost: wishes.reduce(
        (sum, one, other) => sum + (other === at ? 0 : prices[other]! * loadIn(one, solved)),
        solved.cost,
      ),
    };
  }

  /** Where the wish would just hold if minutes fell in a straight line from one price to the other. */
  #priceAtBound(one: PricedNight, other: PricedNight): number {
    const fall = Math.max(tolerance, this.#excess(one) - this.#excess(other));
    return one.price + ((other.price - one.price) * this.#excess(one)) / fall;
  }

  #isNear(zero: PricedNight, below: PricedNight, above: PricedNight): boolean {
    const otherwise = ({ night }: PricedNight): number => sumOf(night, (solved) => this.#cutOf(solved).cost);
    return (
      above.price - below.price <= unspent * above.price ||
      -above.price * this.#excess(above) <= unspent * (otherwise(above) - otherwise(zero))
    );
  }

  /**
   * The price tried next. Where two lines of a tune cost the same, the one with less of the load is the best a little above.
   * A tune whose line is not quite the least, for what a line may not repeat, need not change there: then half way. Nearer to
   * either than a part of what is near enough would tell little.
   */
  #priceBetween(zero: PricedNight, below: PricedNight, above: PricedNight): number {
    const most = mostLoad(
      this.#wish,
      sumOf(zero.night, (solved) => solved.played),
    );
    const crossing = crossingPrice(this.#cuts, this.#parts.tempos, most, below.price, above.price);
    const apart = (unspent / 4) * above.price;
    const wanted = crossing + (above.price - crossing) * aLittle;
    return Math.min(above.price - apart, Math.max(below.price + apart, wanted));
  }

  /** A line stands for the prices between two at which it is the best. */
  #standing(below: PricedNight, above: PricedNight): KnownTune {
    return (tune) => {
      const [one, other] = [below.night[tune]!, above.night[tune]!];
      if (one === null || other === null) return null;
      const isSame = loadIn(this.#wish, one) === loadIn(this.#wish, other) && one.cost === other.cost;
      return isSame ? other : undefined;
    };
  }
}

/**
 * The least price that keeps a wish, with its night; the largest where none does.
 * @param zero the night at no price for it
 * @param guess the first price tried
 */
export function settle(parts: SettleParts, zero: SolvedNight, guess: number): PricedNight {
  const wish = parts.wishes[parts.at]!;
  const settling = new Settling(parts);
  const free = settling.meet(0, zero);
  if (isKept(wish, zero)) return free;
  const { low, high } = settling.rise(free, guess);
  if (!isKept(wish, high.night)) return high;
  const above = settling.closeIn(free, low, high);
  // What stood for itself bears its price only when it is solved at it.
  for (const price of new Set([above.price, high.price])) {
    const found = settling.whole(price);
    if (isKept(wish, found.night)) return found;
  }
  return high;
}
