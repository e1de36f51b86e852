// A wish for minutes as something that can be priced: a load that a line bears, and the most of it there may be.
//
// "At most" loads the stopped notes of the region, "at least" all other notes: what is not spent there is spent in it, so
// the most of the others is what the night plays, less the minutes asked for.
import type { Bpm } from '../music';
import type { RegionPrice } from '../pipeline';
import type { NightWish } from './types';

/** A wish that bears a price. */
export type PricedWish = Extract<NightWish, { kind: 'most' | 'least' }>;

export const isPriced = (wish: NightWish): wish is PricedWish => wish.kind !== 'stay';

/** A price for a minute, as it is laid on the beats of a tune. */
export const regionPrice = ({ kind, region }: PricedWish, perMinute: number, tempo: Bpm): RegionPrice => ({
  region,
  side: kind === 'most' ? 'inside' : 'outside',
  perBeat: perMinute / tempo,
});

/** Minutes that a wish loads, of those in its region and those played in all. */
export const loadOf = ({ kind }: PricedWish, inside: number, played: number): number =>
  kind === 'most' ? inside : played - inside;

/** The most that the load may come to. @param played minutes of notes of the whole night */
export const mostLoad = ({ kind, minutes }: PricedWish, played: number): number =>
  kind === 'most' ? minutes : played - minutes;
