// One tune of a night, solved exactly under whatever the night asks of it.
import { bpm, secondsOf, ticksPerQuarter, type Bpm } from '../music';
import { isOpenString, regionOf, regions, type Region } from '../instrument';
import {
  forgetSolved,
  pathCost,
  priceOf,
  pricedPaths,
  walk,
  type Limits,
  type Line,
  type Caches,
  type ChosenPath,
  type PricedPaths,
  type RegionPrice,
  type StayLimit,
  type Timeline,
  type WalkRequest,
  type WalkResult,
} from '../pipeline';
import { byName, minutesOf, staysOf } from './measure';
import { isPriced, regionPrice, type PricedWish } from './price';
import type { Minutes, NightTune, NightWish } from './types';

/** What a price of a minute is for each wish that bears one, in their order. */
export type WishPrices = readonly number[];

/** A tune with what is remembered about it from solve to solve. */
export interface TuneDesk {
  readonly tune: NightTune;
  readonly caches: Caches;
  readonly tempo: Bpm;
  readonly wishes: readonly PricedWish[];
  /** The longest stay of the night, in beats of this tune; null for any. */
  readonly stay: number | null;
  /** Its best paths under prices alone; null where it has none, and for a line of the player's own. */
  readonly paths: PricedPaths | null;
}

/** What the search needs to know of a solved tune. */
export interface SolvedTune {
  /** Cost of the line times the part of the tune that is walked. */
  readonly cost: number;
  readonly minutes: Minutes;
  /** Minutes of notes. */
  readonly played: number;
  /** What the notes bear of the prices, in cost units. */
  readonly borne: number;
  /** How much more than the least under the same prices, in cost units. */
  readonly over: number;
}

interface Walked extends WalkResult {
  readonly timeline: Timeline;
  readonly line: Line;
}

/** True for a tune that has a line. */
export const isWalked = (result: WalkResult): result is Walked =>
  result.line !== null && result.timeline !== null;

/** The tempo a tune is played at, whether it can be walked or not. */
export const tempoOf = (result: WalkResult): Bpm => result.timeline?.tempo ?? bpm(120);

const asBestLine = (request: WalkRequest): WalkRequest => ({
  ...request,
  take: { ...request.take, temperature: 0, mayRepeat: true },
});

/** What a tune is solved with, as long as it stays what it is. */
export interface TuneSolver {
  readonly caches: Caches;
  readonly paths: PricedPaths | null;
}

export const solverOf = ({ request }: NightTune, caches: Caches): TuneSolver => ({
  caches,
  paths: pricedPaths(asBestLine(request), caches),
});

export function deskOf(
  tune: NightTune,
  wishes: readonly NightWish[],
  tempo: Bpm,
  { caches, paths }: TuneSolver,
): TuneDesk {
  const stays = wishes.flatMap((wish) => (wish.kind === 'stay' ? [wish.seconds] : []));
  return {
    tune,
    caches,
    tempo,
    wishes: wishes.filter(isPriced),
    stay: stays.length === 0 ? null : (Math.min(...stays) * tempo) / 60,
    paths,
  };
}

/** The tune as it would be without any wish. */
export function walkFreely(tune: NightTune, { caches, paths }: TuneSolver): WalkResult {
  const found = paths?.walk([]);
  // Where there is no line, `walk` says why.
  const result = found?.line ? found : walk(asBestLine(tune.request), undefined, caches);
  forgetSolved(caches);
  return result;
}

const laid = ({ wishes, tempo }: TuneDesk, prices: WishPrices): readonly RegionPrice[] =>
  wishes.map((wish, at) => regionPrice(wish, prices[at] ?? 0, tempo)).filter(({ perBeat }) => perBeat > 0);

/** What is asked of a tune under prices, as text to compare. */
export const askedOf = (desk: TuneDesk, prices: WishPrices): string =>
  JSON.stringify([laid(desk, prices), desk.stay, desk.tune.walked]);

/** The request of a tune under prices and a longest stay: what `walk` must be asked to get the line of the plan. */
export function requestUnder(desk: TuneDesk, prices: WishPrices, stay?: StayLimit): WalkRequest {
  const { request } = desk.tune;
  const all = laid(desk, prices);
  const limits: Limits = {
    ...request.limits,
    ...(all.length === 0 ? {} : { prices: all }),
    ...(stay ? { stay } : {}),
  };
  return asBestLine({ ...request, limits });
}

/** Where a line stays longer than so many beats: regions, and bars of the form. */
interface Overstayed {
  readonly regions: readonly Region[];
  readonly bars: readonly number[];
  /** Bars of the form. */
  readonly of: number;
}

function overstayed({ line, timeline }: Walked, beats: number): Overstayed {
  const { tempo, bars, choruses } = timeline;
  const aLittle = 1e-9;
  const stays = staysOf(line, tempo).filter(({ seconds }) => seconds > (beats * 60) / tempo + aLittle);
  // Choruses that differ in length are one form.
  const of = bars.length % choruses === 0 ? bars.length / choruses : bars.length;
  const within = stays.flatMap(({ from, seconds }) =>
    line.notes.filter(({ tick }) => {
      const at = secondsOf(tick, tempo);
      return at > from - aLittle && at < from + seconds - aLittle;
    }),
  );
  return {
    regions: [...new Set(stays.map(({ region }) => region))],
    bars: [...new Set(within.map(({ slot }) => slot.bar % of))],
    of,
  };
}

/** Bars before and after those in which a line stays too long, in which the limit is held at once, too. */
const margin = 1;

/** The longest stay where a line broke it, and where lines before did. */
function stayWhere(beats: number, over: Overstayed, before: StayLimit | null): StayLimit {
  const { of } = over;
  const near = over.bars.flatMap((bar) =>
    Array.from({ length: 2 * margin + 1 }, (_, at) => (bar + at - margin + of) % of),
  );
  const bars = [...new Set([...(before?.during?.bars ?? []), ...near])].sort((a, b) => a - b);
  const regions = new Set([...(before ? [before.region] : []), ...over.regions]);
  const region: StayLimit['region'] = regions.size === 1 ? over.regions[0]! : 'any';
  return bars.length === of ? { region, beats } : { region, beats, during: { bars, of } };
}

/**
 * The best line of a tune under the prices. The longest stay is asked for only where the best line breaks it, then where the
 * best of those does: a line that is the best of more and keeps the limit is the best that keeps it.
 * A limit of the tune's own on one region goes on; beside it the night's holds in every region at once.
 */
export function walkUnder(desk: TuneDesk, prices: WishPrices): WalkResult {
  const { stay, caches } = desk;
  const own = desk.tune.request.limits.stay;
  const ask = (limit?: StayLimit): WalkResult => walk(requestUnder(desk, prices, limit), undefined, caches);
  const found = desk.paths?.walk(laid(desk, prices));
  let result = found?.line ? found : ask();
  let limit: StayLimit | null = null;
  while (stay !== null && isWalked(result)) {
    const over = overstayed(result, stay);
    if (over.bars.length === 0) break;
    const next: StayLimit = own
      ? { region: 'any', beats: Math.min(own.beats, stay) }
      : stayWhere(stay, over, limit);
    if (JSON.stringify(next) === JSON.stringify(limit)) break;
    limit = next;
    result = ask(limit);
  }
  forgetSolved(caches);
  return result;
}

interface Counted {
  /** Beats of notes. */
  readonly all: number;
  /** Beats stopped in each region. */
  readonly byRegion: Readonly<Record<Region, number>>;
  /** Cost units of the prices. */
  readonly borne: number;
}

/** What the played notes of a path come to. */
function countAlong({ instance, path }: ChosenPath, played: number, prices: readonly RegionPrice[]): Counted {
  const byRegion = { ...byName(regions, () => 0) };
  let all = 0;
  let borne = 0;
  for (let t = 0; t < played; t++) {
    const { slot, placements } = instance.candidates[t]!;
    const placement = placements[path[t]!]!;
    const beats = slot.ticks / ticksPerQuarter;
    all += beats;
    borne += priceOf(placement, slot.ticks, prices);
    if (!isOpenString(placement)) byRegion[regionOf(placement.position)] += beats;
  }
  return { all, byRegion, borne };
}

/**
 * What `solvedOf` tells of the line under the prices, without making it.
 * @returns null for a tune without a line; undefined where the line must be made to know: one of the player's own, or one that
 * a longest stay is asked of
 */
export function figuresUnder(desk: TuneDesk, prices: WishPrices): SolvedTune | null | undefined {
  if (desk.stay !== null || desk.tune.request.own) return undefined;
  const borneBy = laid(desk, prices);
  const { paths } = desk;
  const chosen = paths?.under(borneBy);
  forgetSolved(desk.caches);
  if (!paths || !chosen) return null;
  const { timeline } = paths;
  const { walked } = desk.tune;
  const { all, byRegion, borne } = countAlong(chosen, timeline.slots.length, borneBy);
  const perBeat = 1 / timeline.tempo;
  const { lattice } = chosen.instance;
  return {
    cost: (pathCost(lattice, chosen.path) - borne) * walked,
    minutes: byName(regions, (region) => byRegion[region] * perBeat * walked),
    played: (all / timeline.tempo) * walked,
    borne: borne * walked,
    over: (chosen.overLeast ?? 0) * walked,
  };
}

/** Null for a tune without a line. */
export function solvedOf(desk: TuneDesk, result: WalkResult, prices: WishPrices): SolvedTune | null {
  if (!isWalked(result)) return null;
  const { line, timeline } = result;
  const { walked } = desk.tune;
  const all = laid(desk, prices);
  const borne = line.notes.reduce((sum, note) => sum + priceOf(note.placement, note.ticks, all), 0);
  return {
    cost: line.cost * walked,
    minutes: minutesOf(line.report, timeline.tempo, walked),
    played: (line.report.beats / timeline.tempo) * walked,
    borne: borne * walked,
    over: (result.overLeast ?? 0) * walked,
  };
}
