// "At least so much of the stopped time in each of these regions", as a ground asks it of a lesson.
//
// The least line that has the shares is sought, or one with how much it may be over the least (shares.ts); where that finds
// none, one is searched for (../neck-search.ts). A line that is drawn, as people play, has no least: what the search finds is
// taken.
import { regionOf } from '../../instrument';
import type { Path } from '../4-solver';
import type { ProblemInstance } from '../problem/instance';
import { valuesOf, type Before } from './exact-values';
import type { Ground } from './grounds';
import { leastWithShares, type Shares } from './shares';

type Least = NonNullable<Ground['least']>;

export interface LessonOnNeck {
  readonly path: Path;
  /** Thousandths that the line may cost more than the least that has the shares: 0 where it is the least. */
  readonly over: number;
}

const divisor = (a: number, b: number): number => (b === 0 ? a : divisor(b, a % b));

export function sharesOf(
  { candidates, played = candidates.length }: ProblemInstance,
  { regions, share }: Least,
): Shares {
  const counted = candidates.slice(0, played);
  const unit = counted.reduce((sum, { slot }) => divisor(sum, slot.ticks), 0);
  return {
    regionOf: counted.map(({ placements }) =>
      placements.map(({ finger, position }) => {
        if (finger === '0') return null;
        const at = regions.indexOf(regionOf(position));
        return at < 0 ? regions.length : at;
      }),
    ),
    lengths: counted.map(({ slot }) => slot.ticks / unit),
    regions: regions.length,
    share: Math.round(share * 100),
  };
}

/**
 * @param before the line that as little as possible is changed of; null for none
 * @param search for a path that has the shares
 * @returns null where no line has the shares; undefined where none was found
 */
export function leastOnNeck(
  instance: ProblemInstance,
  least: Least,
  before: Before | null,
  search: () => Path | null,
): LessonOnNeck | null | undefined {
  const values = valuesOf(instance.lattice, before);
  const found = leastWithShares(instance.lattice, values, sharesOf(instance, least), search);
  return found && { path: found.path, over: Math.ceil(found.over / values.unit) };
}
