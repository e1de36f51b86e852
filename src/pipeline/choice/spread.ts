// "At least so much of the stopped time in each region": the hand gets around.
//
// Pre: an instance and a choice of lines. Post: a line that has its share in every region, or null where none was found. Which
// bars lie where is searched for with single lines (neck-search.ts); the line itself is then chosen as any other with the
// stopped notes of those bars in their region, so that takes differ as they always do.
import type { Region } from '../../instrument';
import type { Path } from '../4-solver';
import { confined, hasShares, searchNeck } from './neck-search';
import type { ProblemInstance } from '../problem/instance';

/** Where a hand that gets around is to be found; the octave is a way of playing of its own. */
export const spreadRegions = ['low', 'middle', 'neck block'] as const satisfies readonly Region[];

/** Bars are sought for more than is asked, since a line that is drawn has more open strings in some of them than in others. */
const margins = [1, 1.25, 1.6, 2];
/** Three regions have no more than this each. */
const mostEach = 1 / spreadRegions.length;

type Choose = (instance: ProblemInstance) => Path | null;

/**
 * @param share from 0, which asks for nothing, to a third
 * @param guide a cheap choice, to find bars with
 */
export function keepSpread(
  instance: ProblemInstance,
  share: number,
  choose: Choose,
  guide: Choose,
): Path | null {
  const wanted = { regions: spreadRegions, share };
  const free = choose(instance);
  if (!free || share === 0 || hasShares(instance, free, wanted)) return free;
  const single = (of: ProblemInstance): { path: Path; changed: number } | null => {
    const path = guide(of);
    return path && { path, changed: 0 };
  };
  // Margins that reach the most a region can have ask for the same.
  for (const more of new Set(margins.map((margin) => Math.min(mostEach, share * margin)))) {
    const found = searchNeck(instance, { regions: spreadRegions, share: more }, single);
    if (!found) return null;
    const path = choose(confined(instance, found.given));
    if (path && hasShares(instance, path, wanted)) return path;
  }
  return null;
}
