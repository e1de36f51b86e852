// When the wishes leave no line: the smallest set of them that cannot hold together, and the cheapest one to give up, or
// those that have to be given up together.
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
import { minimalConflict, minimalCorrection, wayOutWords } from '../problem/conflict';
import { candidatesUnder, emptyCaches, makeInstance, requestWishes } from '../problem/instance';
import { listedBy } from '../problem/listed';
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

/** Forbids nothing, but offers notes that the rules alone would not. */
const isWidening = ({ source, offers }: Wish): boolean => source.kind === 'limit' && offers !== undefined;
const isNarrowing = (wish: Wish): boolean => !isWidening(wish);

const asConflict = ({ words, source }: Wish): WishInConflict => ({ words, source });

/** The first beat that nothing can be played on, in words. */
function placeOf(request: WalkRequest, timeline: Timeline, wishes: readonly Wish[]): string {
  const { candidates } = candidatesUnder(request, timeline, wishes, undefined);
  const empty = candidates.find((one) => one.placements.length === 0);
  return empty ? ` Bar ${numberOfBar(empty.slot.bar)}, beat ${empty.slot.beat} has no note left.` : '';
}

export function explainImpossible(request: WalkRequest, timeline: Timeline): Impossible {
  const { stay } = request.limits;
  const { hardest } = request.limits;
  const wishes = [
    ...requestWishes(request, timeline),
    ...(stay ? [stayWish(stay)] : []),
    ...(hardest === undefined ? [] : [gentleWish(hardest)]),
  ];
  const possible = (some: readonly Wish[]): boolean => isPossible(request, timeline, some);
  const conflict = possible(wishes) ? [] : minimalConflict(wishes, possible);
  const place = placeOf(request, timeline, wishes);
  const shares = shareWords(request.limits);
  if (conflict.length === 0 && shares.length > 0) {
    const message = `No line that was found keeps to ${listedBy(shares, 'and')} together with the other wishes. Ask for a share that is easier to keep.`;
    return { message, freeing: [], conflict: [], cheapest: null, together: [] };
  }
  if (conflict.length === 0) {
    const message = `A hand of ${request.hand.span} mm cannot hold the notes of these changes on this bass.${place}`;
    return { message, freeing: [], conflict: [], cheapest: null, together: [] };
  }
  const cheapest = cheapestToGiveUp(request, timeline, wishes, conflict);
  const together = cheapest
    ? []
    : minimalCorrection(wishes.filter(isNarrowing), (some) =>
        possible([...wishes.filter(isWidening), ...some]),
      );
  const verdict = conflict.length > 1 ? 'These wishes cannot hold together' : 'This wish cannot be met';
  const freeing = conflict.flatMap(({ source }): HandPosition[] => {
    if (source.kind !== 'limit' || source.position === undefined) return [];
    const { position } = source;
    const without = wishes.filter((one) => one.source.kind !== 'limit' || one.source.position !== position);
    return possible(without) ? [position] : [];
  });
  const isAlone = conflict.length === 1 && cheapest !== null;
  const advice = wayOutWords(
    cheapest?.words ?? null,
    together.map((one) => one.words),
  );
  const named = listedBy(
    conflict.map((one) => one.words),
    'and',
  );
  return {
    message: `${verdict}: ${named}.${place}${isAlone ? '' : advice}`,
    freeing,
    conflict: conflict.map(asConflict),
    cheapest: cheapest && asConflict(cheapest),
    together: together.map(asConflict),
  };
}
