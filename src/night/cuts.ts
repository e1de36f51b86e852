// Lines of a tune that were met, as any price sees them: every one tells at most what the tune costs at a price (cutting
// planes, Kelley 1960, Journal of SIAM 8(4); a cut for each tune of its own, Birge and Louveaux 1988, European Journal of
// Operational Research 34(3)).
import type { Bpm } from '../music';
import { tolerance } from './loads';

/** Steps of the search among lines met before, which solve nothing. */
const halvings = 30;

/** A line of a tune that was met, as a price sees it: what it bears of the load, and what it costs besides. */
export interface Cut {
  readonly load: number;
  readonly cost: number;
}

export const isSameCut = (a: Cut, b: Cut | null): boolean => a.load === b?.load && a.cost === b.cost;

/** The least of what the cuts come to at a price; of equal ones that with the least load. */
export function cheapestAt(cuts: readonly Cut[], price: number): Cut | null {
  let best: Cut | null = null;
  for (const cut of cuts) {
    const difference = best === null ? -1 : cut.cost - best.cost + price * (cut.load - best.load);
    if (difference < 0 || (difference === 0 && cut.load < best!.load)) best = cut;
  }
  return best;
}

/** What a price for a minute is when it is laid on beats in whole cost units. */
export const laidPrice = (price: number, tempo: Bpm): number => Math.floor(price / tempo) * tempo;

/**
 * The least price between two, near enough, at which the lines met so far keep a most load.
 * @param cuts by tune
 */
export function crossingPrice(
  cuts: readonly (readonly Cut[])[],
  tempos: readonly Bpm[],
  most: number,
  low: number,
  high: number,
): number {
  const loadAt = (price: number): number =>
    cuts.reduce((sum, own, tune) => sum + (cheapestAt(own, laidPrice(price, tempos[tune]!))?.load ?? 0), 0);
  let [below, above] = [low, high];
  for (let halved = 0; halved < halvings; halved++) {
    const middle = (below + above) / 2;
    if (loadAt(middle) <= most + tolerance) above = middle;
    else below = middle;
  }
  return above;
}
