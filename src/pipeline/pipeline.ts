// The whole computation: chart text -> chart -> timeline -> candidates -> lattice -> path -> line.
import { getOrMake } from '../cache';
import { derivedSeed, pitchClassOf, indexOfBar, numberOfBar, type Milli } from '../music';
import { keyOfChart, readChart, transposeChart, type Chart, type Problem } from './1-chart';
import { makeTimeline, type Timeline, type TimelineWish } from './2-timeline';
import type { RegionPrice } from './3-candidates';
import { bestPath, type Path } from './4-solver';
import { makeLine } from './5-line';
import { fingerOwn } from './given/own';
import type { OwnLine } from './given/own-types';
import { explainImpossible } from './explain/impossible';
import { holdsOf, holdWish, isKeptAs, keptRhythm, lostNotes, placedBars, type Holds } from './problem/keep';
import type { PlacedBars } from './problem/kept-bars';
import { overLeastOf } from './problem/prices';
import {
  candidatesUnder,
  emptyCaches,
  makeUnpriced,
  requestWishes,
  underPrices,
  withoutSolved,
  type Caches,
  type ProblemInstance,
} from './problem/instance';
import { keepShares } from './choice/shares';
import { keepSpread } from './choice/spread';
import { choosePath, redrawSeed } from './choice/take';
import type { WalkRequest, WalkResult } from './types';

/** Milliseconds by pass, added up. */
export type Clock = () => number;

/** Reads and, when another key is asked for, transposes. */
export function chartOf(request: Pick<WalkRequest, 'chartText' | 'chart' | 'key'>): {
  chart: Chart;
  problems: Problem[];
} {
  const { chart, problems } = request.chart
    ? { chart: request.chart, problems: [] }
    : readChart(request.chartText);
  const moved = request.key ? transposeChart(chart, request.key) : chart;
  return { chart: moved, problems: [...problems] };
}

/** Part of the take's seed that places the figures of the rhythm; takes themselves use 0 and 1. */
const rhythmPart = 2;

/** How the timeline of a request is laid out. */
export const timelineWish = (request: WalkRequest): TimelineWish => ({
  choruses: request.choruses,
  tempo: request.tempo,
  feel: request.feel ?? null,
  density: request.density ?? 0,
  line: request.wishes ?? {},
  seed: derivedSeed(redrawSeed(request.take), rhythmPart),
  ending: request.ending ?? 'round',
  kept: (request.pins ?? []).map(({ bar, beat }) => ({ bar: indexOfBar(bar), beat })),
  ...(request.own ? { mayBeBare: true } : {}),
  rhythm: (bars, feel) => keptRhythm(placedBars(request, { bars, feel })),
});

/** The notes shown before that can stay under the wishes. */
function holdsUnder(request: WalkRequest, timeline: Timeline, caches: Caches): Holds {
  const placed = placedBars(request, timeline);
  const wishes = requestWishes(request, timeline);
  const { candidates } = candidatesUnder(request, timeline, wishes, undefined, caches);
  return holdsOf(
    placed,
    timeline,
    (slot, note) => candidates[slot.index]!.placements.some((placement) => isKeptAs(note, placement)),
    request.limits.stay,
  );
}

/** The player's own line over the chart, which may be in another key than it was written in. */
function walkOwn(
  request: WalkRequest & { readonly own: OwnLine },
  chart: Chart,
  timeline: Timeline,
  problems: readonly Problem[],
): Pick<
  WalkResult,
  'timeline' | 'line' | 'impossible' | 'problems' | 'otherFingers' | 'ownShift' | 'overLeast'
> {
  const written = request.key ? chartOf({ ...request, key: null }).chart : chart;
  const [from, to] = [written, chart].map((one) => pitchClassOf(keyOfChart(one).tonic));
  const { instrument, hand, limits, comfort, pins } = request;
  const hands = {
    instrument,
    hand,
    limits,
    ...(comfort === undefined ? {} : { comfort }),
    ...(pins ? { pins } : {}),
  };
  const found = fingerOwn(request.own, timeline, hands, to! - from!);
  return { ...found, problems: [...problems, ...found.problems] };
}

type Timed = <T>(name: string, pass: () => T) => T;

function stopwatch(clock: Clock): { readonly timed: Timed; readonly timings: Record<string, number> } {
  const timings: Record<string, number> = {};
  const timed: Timed = (name, pass) => {
    const start = clock();
    const result = pass();
    timings[name] = (timings[name] ?? 0) + clock() - start;
    return result;
  };
  return { timed, timings };
}

/** A path with what it was chosen in. */
export interface ChosenPath {
  readonly instance: ProblemInstance;
  readonly path: Path;
  /** How much more it costs than the least under the same prices; null where no prices are laid. */
  readonly overLeast: Milli | null;
}

/** Settings without prices, by what else tells those of a request apart. */
type Unpriced = Map<string, ProblemInstance | null>;

/**
 * The path that the line of a request is made from; null where there is none.
 * @param known instances of the same request under whatever prices
 */
function findPath(
  request: WalkRequest,
  timeline: Timeline,
  placed: PlacedBars,
  caches: Caches,
  timed: Timed,
  known: Unpriced = new Map(),
): ChosenPath | null {
  const { kept = [] } = request;
  const choose = (from: ProblemInstance): Path | null => choosePath(from, request.take, timeline, placed);
  // Takes are drawn many times over: where shares lead to is looked for with single lines.
  const isDrawn = request.take.temperature > 0;
  const single = isDrawn
    ? (from: ProblemInstance): Path | null => bestPath(from.lattice)?.path ?? null
    : choose;
  const { shares = [], spread = 0 } = request.limits;
  const chooseShared = (from: ProblemInstance): Path | null => keepShares(from, shares, choose, single);
  const solveUnder = (holds: Holds, isStrict: boolean): { instance: ProblemInstance; path: Path } | null => {
    const isHeld = holds.size > 0;
    const instance = timed('lattice', () => {
      const unpriced = getOrMake(known, [isHeld, isStrict].join(), () => {
        const masks = requestWishes(request, timeline);
        const wishes = isHeld ? [...masks, holdWish(holds)] : masks;
        return makeUnpriced(request, timeline, wishes, request.limits.stay, caches, isStrict);
      });
      return unpriced && underPrices(unpriced, request.limits.prices);
    });
    const path = instance && timed('solve', () => keepSpread(instance, spread, chooseShared, single));
    return instance && path && { instance, path };
  };
  // Where the wishes leave no line that keeps to the rules, they outweigh those that are never broken.
  const solve = (holds: Holds): ReturnType<typeof solveUnder> =>
    solveUnder(holds, true) ?? solveUnder(holds, false);
  const holds: Holds =
    kept.length > 0 ? timed('keep', () => holdsUnder(request, timeline, caches)) : new Map();
  // Where the wishes leave no line with the notes shown before, they outweigh them.
  const found = solve(holds) ?? (holds.size > 0 ? solve(new Map()) : null);
  if (!found) return null;
  const isPriced = request.limits.prices !== undefined && request.take.temperature === 0;
  const overLeast = isPriced ? timed('solve', () => overLeastOf(found.instance.lattice, found.path)) : null;
  return { ...found, overLeast };
}

/** The paths of one request under any prices. */
export interface PricedPaths {
  readonly timeline: Timeline;
  /** Null where there is none. */
  readonly under: (prices: readonly RegionPrice[]) => ChosenPath | null;
  /** What `tryWalk` gives under the prices. */
  readonly walk: (prices: readonly RegionPrice[]) => WalkResult;
}

/**
 * As `tryWalk`, but leaves it at the path: for whoever asks for a request under many prices and reads figures only. What no price
 * changes is made once.
 * @param request without prices
 * @returns null where there is nothing to play; a line of the player's own has no path either
 */
export function pricedPaths(request: WalkRequest, caches: Caches): PricedPaths | null {
  const unwatched = stopwatch(() => 0);
  const laid = layOut(request, unwatched);
  const { timeline } = laid;
  if (!timeline || request.own || timeline.slots.length === 0) return null;
  const placed = placedBars(request, timeline);
  const known: Unpriced = new Map();
  let last: { readonly asked: string; readonly chosen: ChosenPath | null } | null = null;
  const under = (prices: readonly RegionPrice[]): ChosenPath | null => {
    const asked = JSON.stringify(prices);
    if (last?.asked === asked) return last.chosen;
    const priced = prices.length === 0 ? request : { ...request, limits: { ...request.limits, prices } };
    const chosen = findPath(priced, timeline, placed, caches, unwatched.timed, known);
    for (const [key, instance] of known) known.set(key, instance && withoutSolved(instance));
    last = { asked, chosen: chosen && { ...chosen, instance: withoutSolved(chosen.instance) } };
    return last.chosen;
  };
  const walkUnder = (prices: readonly RegionPrice[]): WalkResult =>
    lineAlong(request, { ...laid, timeline }, placed, under(prices), unwatched);
  return { timeline, under, walk: walkUnder };
}

type Stopwatch = ReturnType<typeof stopwatch>;

/** Chart and timeline of a request, with no line yet. */
function layOut(request: WalkRequest, { timed, timings }: Stopwatch): WalkResult {
  const { chart, problems } = timed('chart', () => chartOf(request));
  const made = timed('timeline', () => makeTimeline(chart, timelineWish(request)));
  problems.push(...made.problems);
  return { chart, problems, timeline: made.timeline, line: null, impossible: null, timings };
}

/** The line along the path that was found, with what became of the bars that are kept. */
function lineAlong(
  request: WalkRequest,
  laid: WalkResult & { readonly timeline: Timeline },
  placed: PlacedBars,
  found: ChosenPath | null,
  { timed }: Stopwatch,
): WalkResult {
  if (!found) return laid;
  const { timeline } = laid;
  const line = timed('line', () =>
    makeLine(found.instance.candidates, found.path, timeline.slots.length, found.instance.model),
  );
  const plain: WalkResult = { ...laid, line };
  const result: WalkResult = found.overLeast === null ? plain : { ...plain, overLeast: found.overLeast };
  if ((request.kept ?? []).length === 0) return result;
  const locked = [...placed.locked].map((bar) => numberOfBar(bar)).sort((a, b) => a - b);
  const { lostLocks } = placed;
  return { ...result, keeping: { locked, lostLocks, lostNotes: lostNotes(placed, timeline, line) } };
}

/**
 * As `walk`, but does not say why where there is no line: for whoever tries many wishes, most of which leave none.
 * Never throws on any chart text.
 */
export function tryWalk(
  request: WalkRequest,
  caches: Caches = emptyCaches(),
  watch: Stopwatch = stopwatch(() => 0),
): WalkResult {
  const { timed } = watch;
  const laid = layOut(request, watch);
  const { timeline, chart, problems } = laid;
  if (timeline && request.own) {
    const own = { ...request, own: request.own };
    return { ...laid, ...timed('solve', () => walkOwn(own, chart, timeline, problems)) };
  }
  if (!timeline || timeline.slots.length === 0) return laid;
  const placed = placedBars(request, timeline);
  const found = findPath(request, timeline, placed, caches, timed);
  return lineAlong(request, { ...laid, timeline }, placed, found, watch);
}

/**
 * A line for a chart, with everything that is known about it. Never throws on any chart text: what could not be read is
 * among the problems, and where no line exists the result says why.
 *
 * @param clock milliseconds, for the timings; leave it out where nobody reads them
 * @param caches carried from request to request by whoever asks often: what has not changed is not made again
 */
export function walk(
  request: WalkRequest,
  clock: Clock = () => 0,
  caches: Caches = emptyCaches(),
): WalkResult {
  const watch = stopwatch(clock);
  const result = tryWalk(request, caches, watch);
  const { line, timeline } = result;
  if (line || request.own || !timeline || timeline.slots.length === 0) return result;
  return { ...result, impossible: watch.timed('conflict', () => explainImpossible(request, timeline)) };
}
