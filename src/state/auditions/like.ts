// What to wish for so that the next takes come out more like one that was chosen. The wishes move so that all three shares
// together go as far as the take stands from the takes drawn with the same wishes.
import data from '../../../shared/weights/audition-shares.json' with { type: 'json' };
import { plainValue } from '../../pipeline';
import type { Walk } from './figures';

export const wishNames = ['bold', 'leaps', 'outside'] as const;
export type WishName = (typeof wishNames)[number];
/** From -1 to 1, as in the plain settings of a study. */
export type WalkWishes = Readonly<Record<WishName, number>>;

/** The share of a line that each wish moves most. */
export const shareOfWish: Readonly<Record<WishName, keyof Walk>> = {
  bold: 'roots',
  leaps: 'steps',
  outside: 'outside',
};

/** Wishes go by tenths: finer than that a take of a dozen bars says nothing. */
const grain = 10;

type Three = readonly [number, number, number];

const inOrder = ({ roots, steps, outside }: Walk): Three => [roots, steps, outside];

/** How much a unit of a wish moves of the shares. */
function slopesOf(name: WishName): Three {
  const { least, most } = data.wishes[name];
  const [roots, steps, outside] = inOrder(least);
  return [(most.roots - roots) / 2, (most.steps - steps) / 2, (most.outside - outside) / 2];
}

const determinant = ([a, b, c]: Three, [d, e, f]: Three, [g, h, i]: Three): number =>
  a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);

/** How far the wishes go to move the shares by so much (Cramer's rule). */
function wishesMoving(by: Three): WalkWishes {
  const [bold, leaps, outside] = [slopesOf('bold'), slopesOf('leaps'), slopesOf('outside')];
  const all = determinant(bold, leaps, outside);
  return {
    bold: determinant(by, leaps, outside) / all,
    leaps: determinant(bold, by, outside) / all,
    outside: determinant(bold, leaps, by) / all,
  };
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
  const move = wishesMoving([
    chosen.roots - mean.roots,
    chosen.steps - mean.steps,
    chosen.outside - mean.outside,
  ]);
  const nudged = (name: WishName): number => {
    const near = plainValue(name, Math.round((wishes[name] + move[name]) * grain) / grain) ?? wishes[name];
    // No negative nought.
    return near === 0 ? 0 : near;
  };
  return { bold: nudged('bold'), leaps: nudged('leaps'), outside: nudged('outside') };
}

export const sameWishes = (one: WalkWishes, other: WalkWishes): boolean =>
  wishNames.every((name) => one[name] === other[name]);
