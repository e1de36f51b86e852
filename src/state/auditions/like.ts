// What to wish for so that the next takes come out more like one that was chosen. A wish moves by how far the take stands
// from the takes drawn with the same wishes, over what a full wish moves of that share.
import data from '../../../shared/weights/audition-shares.json' with { type: 'json' };
import { plainValue } from '../../pipeline';
import type { Walk } from './figures';

export const wishNames = ['bold', 'leaps', 'outside'] as const;
export type WishName = (typeof wishNames)[number];
/** From -1 to 1, as in the plain settings of a study. */
export type WalkWishes = Readonly<Record<WishName, number>>;

/** The share of a line that each wish moves. */
export const shareOfWish: Readonly<Record<WishName, keyof Walk>> = {
  bold: 'roots',
  leaps: 'steps',
  outside: 'outside',
};

/** Wishes go by tenths: finer than that a take of a dozen bars says nothing. */
const grain = 10;

/** How much of its share the whole way of a wish moves, a unit of the wish. */
function slopeOf(name: WishName): number {
  const { least, most } = data.shares[name];
  return (most - least) / 2;
}

export const meanWalk = (walks: readonly Walk[]): Walk => {
  const mean = (name: keyof Walk): number =>
    walks.length === 0 ? 0 : walks.reduce((sum, walk) => sum + walk[name], 0) / walks.length;
  return { roots: mean('roots'), steps: mean('steps'), outside: mean('outside') };
};

/**
 * The wishes for more takes like `chosen`.
 * @param wishes what it was drawn with
 * @param fellows all that was drawn with the same wishes, `chosen` among them
 */
export function wishesLike(chosen: Walk, fellows: readonly Walk[], wishes: WalkWishes): WalkWishes {
  const mean = meanWalk(fellows);
  const nudged = (name: WishName): number => {
    const share = shareOfWish[name];
    const wanted = wishes[name] + (chosen[share] - mean[share]) / slopeOf(name);
    const near = plainValue(name, Math.round(wanted * grain) / grain) ?? wishes[name];
    // No negative nought.
    return near === 0 ? 0 : near;
  };
  return { bold: nudged('bold'), leaps: nudged('leaps'), outside: nudged('outside') };
}

export const sameWishes = (one: WalkWishes, other: WalkWishes): boolean =>
  wishNames.every((name) => one[name] === other[name]);
