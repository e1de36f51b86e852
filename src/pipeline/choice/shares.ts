// "At most so much of the time in this region": a surcharge a beat on the region, raised until the line keeps the share.
//
// The surcharge is a Lagrange multiplier; the line's own cost is told without it.
import { ticksPerQuarter } from '../../music';
import { isCounted, type Limits, type ShareLimit, type SlotCandidates } from '../3-candidates';
import type { Path } from '../4-solver';
import { priced } from '../problem/prices';
import type { ProblemInstance } from '../problem/instance';
import { spreadRegions } from './spread';

/** Each of the shares that limits ask for, in words. */
export const shareWords = ({ shares = [], spread = 0 }: Pick<Limits, 'shares' | 'spread'>): string[] => [
  ...shares.map(({ region, share }) => `at most ${percent(share)} in the ${region} region`),
  ...(spread === 0 ? [] : [`at least ${percent(spread)} in each of the ${spreadRegions.join(', ')} regions`]),
];
const percent = (share: number): string => `${Math.round(share * 100)} %`;

/** A surcharge on stopped notes of a region, in integer cost units a beat. */
interface Surcharge {
  readonly bound: ShareLimit;
  readonly perBeat: number;
}

const firstSurcharge = 250;
const largestSurcharge = 64_000;
const halvings = 7;
/** Bounds pull at one another: what one was given is looked at again so many times. */
const rounds = 6;

const beatsOf = (candidates: SlotCandidates): number => candidates.slot.ticks / ticksPerQuarter;

/** The lattice with surcharges laid on; the line's own cost is told without them. */
function surcharged(instance: ProblemInstance, surcharges: readonly Surcharge[]): ProblemInstance {
  const prices = surcharges.map(({ bound: { region }, perBeat }) => ({
    region,
    side: 'inside' as const,
    perBeat,
  }));
  const { lattice, candidates, played = candidates.length } = instance;
  return { ...instance, lattice: priced(lattice, candidates, prices, played) };
}

/** Beats over (positive) or under a bound, of the played slots. */
function excess(instance: ProblemInstance, path: Path, { region, share }: ShareLimit): number {
  let beats = 0;
  let inside = 0;
  instance.candidates.slice(0, instance.played).forEach((candidates, t) => {
    beats += beatsOf(candidates);
    if (isCounted(candidates.placements[path[t]!]!, { region })) inside += beatsOf(candidates);
  });
  return inside - share * beats;
}

const isKept = (instance: ProblemInstance, path: Path, bound: ShareLimit): boolean =>
  excess(instance, path, bound) <= 1e-9;

type Choose = (instance: ProblemInstance) => Path | null;

/** Surcharges by bound under which the path that is chosen keeps to all of them. */
interface Kept {
  readonly surcharges: readonly number[];
  readonly path: Path;
}

/** The least surcharge of one bound, the others as they are, that keeps it; null where even the largest does not. */
function raised(
  start: number,
  choose: (perBeat: number) => Path | null,
  keeps: (path: Path | null) => boolean,
): { readonly perBeat: number; readonly path: Path } | null {
  let low = start;
  let high = Math.max(firstSurcharge, 2 * start);
  let found = choose(high);
  while (!keeps(found) && high < largestSurcharge) {
    low = high;
    high *= 2;
    found = choose(high);
  }
  if (!found || !keeps(found)) return null;
  for (let step = 0; step < halvings && high - low > 1; step++) {
    const middle = (low + high) / 2;
    const between = choose(middle);
    if (between && keeps(between)) {
      high = middle;
      found = between;
    } else low = middle;
  }
  return { perBeat: high, path: found };
}

/** @param known the path at the surcharges to start with, where it was chosen already */
function keepFrom(
  instance: ProblemInstance,
  bounds: readonly ShareLimit[],
  start: readonly number[],
  choose: Choose,
  known?: Path | null,
): Kept | null {
  const at = (surcharges: readonly number[]): Path | null =>
    choose(
      surcharged(
        instance,
        bounds.map((bound, index) => ({ bound, perBeat: surcharges[index]! })),
      ),
    );
  let surcharges = start;
  let path = known === undefined ? at(surcharges) : known;
  for (let round = 0; round < rounds && path; round++) {
    let isMoved = false;
    for (const [index, bound] of bounds.entries()) {
      if (!path || isKept(instance, path, bound)) continue;
      const found = raised(
        surcharges[index]!,
        (perBeat) => at(surcharges.with(index, perBeat)),
        (one) => one !== null && isKept(instance, one, bound),
      );
      if (!found) return null;
      surcharges = surcharges.with(index, found.perBeat);
      ({ path } = found);
      isMoved = true;
    }
    if (!isMoved) return { surcharges, path };
  }
  return null;
}

/**
 * Null when even the largest surcharge leaves a share too high, or there is no path at all.
 *
 * @param guide a cheaper choice, for the surcharges to begin with where `choose` draws many lines
 */
export function keepShares(
  instance: ProblemInstance,
  bounds: readonly ShareLimit[],
  choose: Choose,
  guide: Choose = choose,
): Path | null {
  const free = choose(instance);
  if (free && bounds.every((bound) => isKept(instance, free, bound))) return free;
  const none = bounds.map(() => 0);
  const first = guide === choose ? null : keepFrom(instance, bounds, none, guide);
  const kept = first
    ? keepFrom(instance, bounds, first.surcharges, choose)
    : keepFrom(instance, bounds, none, choose, free);
  return kept && kept.path;
}
