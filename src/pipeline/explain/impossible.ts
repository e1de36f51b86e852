// When the wishes leave no line: the smallest set of them that cannot hold together, and the cheapest one to give up.
//
// A set in conflict is made small by leaving out one wish after another: what is still impossible without a wish does not
// need it. What remains cannot lose any member and stay impossible.
import { numberOfBar } from '../../music';
import type { HandPosition } from '../../instrument';
import type { Timeline } from '../2-timeline';
import {
  hardestWords,
  stayWords,
  type LimitName,
  type Limits,
  type StayLimit,
  type Wish,
} from '../3-candidates';
import { bestPath } from '../4-solver';
import { candidatesUnder, emptyCaches, makeInstance, requestWishes } from '../problem/instance';
import type { Impossible, WalkRequest, WishInConflict } from '../types';
import { shareWords } from '../choice/shares';

/** A longest stay is a wish, too, though no mask: it allows every single placement. */
const stayWish = (stay: StayLimit): Wish => ({
  words: stayWords(stay),
  source: { kind: 'limit', limit: 'stay' },
  allows: () => true,
});

/** So is the hardest move. */
const gentleWish = (hardest: NonNullable<Limits['hardest']>): Wish => ({
  words: hardestWords(hardest),
  source: { kind: 'limit', limit: 'hardest move' },
  allows: () => true,
});

const isLimit = (wish: Wish, name: LimitName): boolean =>
  wish.source.kind === 'limit' && wish.source.limit === name;
/** Carried by the lattice: whether it can be met is known only where moves are. */
const isCarried = (wish: Wish): boolean => isLimit(wish, 'stay') || isLimit(wish, 'hardest move');

/** The wishes that the lattice carries, without those that are not among `wishes`. */
function limitsUnder(limits: Limits, wishes: readonly Wish[]): Limits {
  const { stay, hardest, ...masks } = limits;
  return {
    ...masks,
    ...(stay && wishes.some((wish) => isLimit(wish, 'stay')) ? { stay } : {}),
    ...(hardest !== undefined && wishes.some((wish) => isLimit(wish, 'hardest move')) ? { hardest } : {}),
  };
}

/** Cost of the best line under some wishes, null when there is none. Where moves are free, a note for each slot is a line. */
function bestCost(request: WalkRequest, timeline: Timeline, wishes: readonly Wish[]): number | null {
  const limits = limitsUnder(request.limits, wishes);
  const masks = wishes.filter((wish) => !isCarried(wish));
  // Rules of the line are no wishes: only what no line at all can do is impossible.
  const instance = makeInstance({ ...request, limits }, timeline, masks, limits.stay, emptyCaches(), false);
  return instance ? (bestPath(instance.lattice)?.cost ?? null) : null;
}

function isPossible(request: WalkRequest, timeline: Timeline, wishes: readonly Wish[]): boolean {
  if (wishes.some(isCarried)) return bestCost(request, timeline, wishes) !== null;
  const { candidates } = candidatesUnder(request, timeline, wishes, undefined);
  return candidates.every((one) => one.placements.length > 0);
}

function smallestConflict(
  request: WalkRequest,
  timeline: Timeline,
  wishes: readonly Wish[],
): readonly Wish[] {
  if (isPossible(request, timeline, wishes)) return [];
  let kept = wishes;
  for (const wish of wishes) {
    const without = kept.filter((one) => one !== wish);
    if (!isPossible(request, timeline, without)) kept = without;
  }
  return kept;
}

function cheapestToGiveUp(
  request: WalkRequest,
  timeline: Timeline,
  all: readonly Wish[],
  conflict: readonly Wish[],
): Wish | null {
  let cheapest: Wish | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const wish of conflict) {
    const cost = bestCost(
      request,
      timeline,
      all.filter((one) => one !== wish),
    );
    if (cost === null || cost >= least) continue;
    least = cost;
    cheapest = wish;
  }
  return cheapest;
}

const asConflict = ({ words, source }: Wish): WishInConflict => ({ words, source });

/** The first beat that nothing can be played on, in words. */
function placeOf(request: WalkRequest, timeline: Timeline, wishes: readonly Wish[]): string {
  const { candidates } = candidatesUnder(request, timeline, wishes, undefined);
  const empty = candidates.find((one) => one.placements.length === 0);
  return empty ? ` Bar ${numberOfBar(empty.slot.bar)}, beat ${empty.slot.beat} has no note left.` : '';
}

const listed = (parts: readonly string[]): string =>
  parts.length < 2 ? parts.join('') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)!}`;

export function explainImpossible(request: WalkRequest, timeline: Timeline): Impossible {
  const { stay } = request.limits;
  const { hardest } = request.limits;
  const wishes = [
    ...requestWishes(request, timeline),
    ...(stay ? [stayWish(stay)] : []),
    ...(hardest === undefined ? [] : [gentleWish(hardest)]),
  ];
  const conflict = smallestConflict(request, timeline, wishes);
  const place = placeOf(request, timeline, wishes);
  const shares = shareWords(request.limits);
  if (conflict.length === 0 && shares.length > 0) {
    const message = `No line that was found keeps to ${listed(shares)} together with the other wishes. Ask for a share that is easier to keep.`;
    return { message, freeing: [], conflict: [], cheapest: null };
  }
  if (conflict.length === 0) {
    const message = `A hand of ${request.hand.span} mm cannot hold the notes of these changes on this bass.${place}`;
    return { message, freeing: [], conflict: [], cheapest: null };
  }
  const cheapest = cheapestToGiveUp(request, timeline, wishes, conflict);
  const verdict = conflict.length > 1 ? 'These wishes cannot hold together' : 'This wish cannot be met';
  const freeing = conflict.flatMap(({ source }): HandPosition[] => {
    if (source.kind !== 'limit' || source.position === undefined) return [];
    const { position } = source;
    const without = wishes.filter((one) => one.source.kind !== 'limit' || one.source.position !== position);
    return isPossible(request, timeline, without) ? [position] : [];
  });
  const advice = cheapest
    ? ` Giving up “${cheapest.words}” costs the line least.`
    : ' Giving up one of them is not enough.';
  return {
    message: `${verdict}: ${listed(conflict.map((one) => one.words))}.${place}${conflict.length > 1 ? advice : ''}`,
    freeing,
    conflict: conflict.map(asConflict),
    cheapest: cheapest && asConflict(cheapest),
  };
}
