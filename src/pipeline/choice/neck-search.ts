// "At least so much of the stopped time in each of these regions": a region that is short is given bars in a row in which
// stopped notes lie in it alone, where they cost the line least; the rest stays free.
//
// A search, not a minimum: what it finds has the shares, and within the bars given it is the best. Whether it is the least
// there is, or by how much it may be over it, is for lessons/shares.ts to say.
import { numberOfBar } from '../../music';
import { isOpenString, regionOf, type Region } from '../../instrument';
import { infinite, pathCost, type Path } from '../4-solver';
import type { ProblemInstance } from '../problem/instance';

/** The least share of the stopped time, from 0 to 1, in each of some regions. */
export interface LeastShares {
  readonly regions: readonly Region[];
  readonly share: number;
}

/** The region that bars are given to, by bar. */
type Given = ReadonlyMap<number, Region>;

/** A path, and how many notes it changes of the line before. */
export interface Chosen {
  readonly path: Path;
  readonly changed: number;
}

/** Bars given one region after another before the search ends. */
const mostTries = 9;
/** Places that are compared for the bars of one region. */
const places = 8;
/** Bars are given for more than what is missing, since open strings ring in them, too. */
const generous = 1.4;

/** The lattice with the stopped notes of given bars in their region alone. */
export function confined(instance: ProblemInstance, given: Given): ProblemInstance {
  const { candidates, lattice, played } = instance;
  const slots = lattice.slots.map((slot, t) => {
    const region = t < (played ?? candidates.length) ? given.get(candidates[t]!.slot.bar) : undefined;
    if (region === undefined) return slot;
    const { placements } = candidates[t]!;
    const placementCosts = slot.placementCosts.map((cost, h) =>
      isOpenString(placements[h]!) || regionOf(placements[h]!.position) === region ? cost : infinite,
    );
    return { ...slot, placementCosts };
  });
  return { ...instance, lattice: { ...lattice, slots } };
}

/** The share of the stopped time that a region has too little; 0 or less where it has enough. */
function missing({ candidates, played }: ProblemInstance, path: Path, region: Region, share: number): number {
  let stopped = 0;
  let inside = 0;
  candidates.slice(0, played).forEach(({ slot, placements }, t) => {
    const { finger, position } = placements[path[t]!]!;
    if (finger === '0') return;
    stopped += slot.ticks;
    if (regionOf(position) === region) inside += slot.ticks;
  });
  return stopped === 0 ? share : share - inside / stopped;
}

/** True of a path that has its share in every region. */
export const hasShares = (instance: ProblemInstance, path: Path, { regions, share }: LeastShares): boolean =>
  regions.every((region) => missing(instance, path, region, share) <= 0);

/** Ways to give some free bars in a row to a region, spread over the form. */
function waysToGive(given: Given, region: Region, count: number, bars: number): readonly Given[] {
  const stride = Math.max(1, Math.floor((bars - count) / (places - 1)));
  const ways: Given[] = [];
  for (let first = 0; first + count <= bars; first += stride) {
    const own = Array.from({ length: count }, (_, k) => first + k);
    if (own.some((bar) => given.has(bar))) continue;
    ways.push(new Map([...given, ...own.map((bar) => [bar, region] as const)]));
  }
  return ways;
}

/** A path that has the shares, and the bars that were given for it. */
export interface OnNeck {
  readonly path: Path;
  readonly given: Given;
}

/** Null when no such bars were found. */
export function searchNeck(
  instance: ProblemInstance,
  { regions, share }: LeastShares,
  choose: (instance: ProblemInstance) => Chosen | null,
): OnNeck | null {
  const bars = numberOfBar(instance.candidates.slice(0, instance.played).at(-1)!.slot.bar);
  let given: Given = new Map();
  let chosen = choose(instance);
  for (let attempt = 0; attempt < mostTries && chosen; attempt++) {
    const now = chosen;
    const short = regions.map((region) => ({ region, by: missing(instance, now.path, region, share) }));
    const { region, by } = short.reduce((a, b) => (b.by > a.by ? b : a));
    if (by <= 0) return { path: now.path, given };
    let best: Chosen | null = null;
    const before = given;
    for (let count = Math.max(1, Math.ceil(by * bars * generous)); count > 0 && !best; count--) {
      for (const way of waysToGive(before, region, count, bars)) {
        const tried = choose(confined(instance, way));
        if (!tried || (best && isWorse(instance, tried, best))) continue;
        best = tried;
        given = way;
      }
    }
    chosen = best;
  }
  return null;
}

/** More notes changed, or as many at no less cost. */
const isWorse = ({ lattice }: ProblemInstance, one: Chosen, other: Chosen): boolean =>
  one.changed === other.changed
    ? pathCost(lattice, one.path) >= pathCost(lattice, other.path)
    : one.changed > other.changed;
