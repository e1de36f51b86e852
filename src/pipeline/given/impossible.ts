// Why a given line cannot be fingered under the wishes: the smallest set of them that cannot hold together.
import { numberOfBar } from '../../music';
import type { HandPosition } from '../../instrument';
import type { Slot } from '../2-timeline';
import { hardestWords, stayWords, type LimitName, type Limits, type Wish } from '../3-candidates';
import { minimalConflict, minimalCorrection, wayOutWords } from '../problem/conflict';
import { listedBy } from '../problem/listed';
import { shareWords } from '../choice/shares';
import type { Impossible, WishInConflict } from '../types';
import type { GivenRequest } from './types';

/** What the explanation may ask of the solver. */
export interface GivenSearch {
  /** Cost of the best fingering under some masks and what the lattice carries; null when there is none. */
  costUnder(masks: readonly Wish[], carried: Pick<Limits, 'stay' | 'hardest'>): number | null;
  /** The first note that no placement is left for; undefined when each has one. */
  emptyUnder(masks: readonly Wish[]): Slot | undefined;
}

/** The longest stay as a wish among the others, so that it can be left out like them. */
const stayWish = ({ limits }: GivenRequest): readonly Wish[] =>
  limits.stay
    ? [
        {
          words: stayWords(limits.stay),
          source: { kind: 'limit', limit: 'stay' },
          allows: () => true,
        },
      ]
    : [];

/** So is the hardest move. */
const gentleWish = ({ limits: { hardest } }: GivenRequest): readonly Wish[] =>
  hardest === undefined
    ? []
    : [
        {
          words: hardestWords(hardest),
          source: { kind: 'limit', limit: 'hardest move' },
          allows: () => true,
        },
      ];

const asConflict = ({ words, source }: Wish): WishInConflict => ({ words, source });
const isLimit = ({ source }: Wish, name: LimitName): boolean =>
  source.kind === 'limit' && source.limit === name;
const positionOf = ({ source }: Wish): HandPosition | undefined =>
  source.kind === 'limit' ? source.position : undefined;

/** @param masks the wishes of the request, under which there is no fingering */
export function explainGiven(request: GivenRequest, masks: readonly Wish[], search: GivenSearch): Impossible {
  const all = [...masks, ...stayWish(request), ...gentleWish(request)];
  const { stay, hardest } = request.limits;
  const costOf = (wishes: readonly Wish[]): number | null =>
    search.costUnder(
      wishes.filter((wish) => !isLimit(wish, 'stay') && !isLimit(wish, 'hardest move')),
      {
        ...(stay && wishes.some((wish) => isLimit(wish, 'stay')) ? { stay } : {}),
        ...(hardest !== undefined && wishes.some((wish) => isLimit(wish, 'hardest move')) ? { hardest } : {}),
      },
    );
  const placeOf = (wishes: readonly Wish[]): string => {
    const slot = search.emptyUnder(wishes);
    return slot
      ? ` Bar ${numberOfBar(slot.bar)}, beat ${Number(slot.beat.toFixed(2))} has no place left.`
      : '';
  };
  if (costOf([]) === null) {
    const message = `A hand of ${request.hand.span} mm cannot hold these notes on this bass.${placeOf([])}`;
    return { message, freeing: [], conflict: [], cheapest: null, together: [] };
  }
  const shares = shareWords(request.limits);
  if (shares.length > 0 && costOf(all) !== null) {
    const message = `No fingering of these notes keeps to ${listedBy(shares, 'and')} together with the other wishes. Ask for a share that is easier to keep.`;
    return { message, freeing: [], conflict: [], cheapest: null, together: [] };
  }
  const isPossible = (wishes: readonly Wish[]): boolean => costOf(wishes) !== null;
  const conflict = minimalConflict(all, isPossible);
  const relieved = conflict
    .map((wish) => ({ wish, cost: costOf(all.filter((one) => one !== wish)) }))
    .filter((one): one is { wish: Wish; cost: number } => one.cost !== null)
    .sort((a, b) => a.cost - b.cost);
  const cheapest = relieved[0]?.wish ?? null;
  const together = cheapest ? [] : minimalCorrection(all, isPossible);
  const advice = wayOutWords(
    cheapest?.words ?? null,
    together.map((one) => one.words),
  );
  const named = listedBy(
    conflict.map((one) => one.words),
    'and',
  );
  return {
    message: `These wishes cannot hold together: ${named}.${placeOf(masks)}${advice}`,
    freeing: relieved.flatMap(({ wish }) => positionOf(wish) ?? []),
    conflict: conflict.map(asConflict),
    cheapest: cheapest && asConflict(cheapest),
    together: together.map(asConflict),
  };
}
