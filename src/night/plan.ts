// The plan of a night: its tunes freely, the prices its wishes need, every tune exactly under them, and what all that comes to.
import { getOrMake, makeCache, type Cache } from '../cache';
import { stringName } from '../instrument';
import { emptyCaches, cachesBeside, type LineNote, type Caches, type WalkResult } from '../pipeline';
import { addMeasures, handInkOf, measureOf, noMeasure, staysOf, unwalked } from './measure';
import { isPriced } from './price';
import { gapOf, isKept, sumOf, tolerance } from './loads';
import { findPrices, type Found } from './search';
import { spreadOf } from './spread';
import {
  askedOf,
  deskOf,
  figuresUnder,
  isWalked,
  solvedOf,
  solverOf,
  tempoOf,
  walkFreely,
  walkUnder,
  type WishPrices,
  type SolvedTune,
  type TuneDesk,
  type TuneSolver,
} from './tune';
import type {
  Differing,
  FirstNote,
  Measure,
  NightPlan,
  NightRequest,
  NightTune,
  NightWish,
  TunePlan,
  WatchNight,
  WishPlan,
} from './types';

/** Parts of the work by how long they take, for telling how far it has come. */
const shares = { free: 0.25, held: 0.75, search: 0.85 } as const;

const isSamePlace = (a: LineNote, b: LineNote): boolean =>
  a.placement.string === b.placement.string &&
  a.placement.finger === b.placement.finger &&
  a.placement.position === b.placement.position;

/** What differs between two lines over the same rhythm, by chorus. */
function differingOf(before: WalkResult, after: WalkResult, choruses: number): Differing {
  const old = before.line?.notes ?? [];
  const pairs = (after.line?.notes ?? []).flatMap((note, index) => (old[index] ? [[old[index], note]] : []));
  const moved = pairs.filter(([a, b]) => a!.midi !== b!.midi).length;
  const held = pairs.filter(([a, b]) => a!.midi === b!.midi && !isSamePlace(a!, b!)).length;
  return { notes: moved / choruses, places: held / choruses };
}

function firstOf({ pitch, midi, placement }: LineNote, { request }: NightTune): FirstNote {
  const string = stringName(request.instrument, placement.string);
  return { pitch, midi, placement, string };
}

function planOf(tune: NightTune, free: WalkResult, result: WalkResult, spread: TunePlan['spread']): TunePlan {
  const { timeline, problems, impossible, chart } = result;
  const common = {
    title: tune.title,
    key: timeline?.key ?? chart.header.key,
    tempo: timeline?.tempo ?? null,
    choruses: tune.request.choruses,
    problems,
    impossible,
  };
  if (!isWalked(result)) {
    return {
      ...common,
      measure: unwalked(timeline),
      first: null,
      ink: { seconds: 1, columns: [] },
      differing: { notes: 0, places: 0 },
      spread: null,
      ends: { first: null, last: null },
    };
  }
  const { line } = result;
  const { walked } = tune;
  const stays = walked === 0 ? [] : staysOf(line, result.timeline.tempo);
  const [first] = line.notes;
  return {
    ...common,
    measure: measureOf(result.timeline, line, walked),
    first: first && walked > 0 ? firstOf(first, tune) : null,
    ink: handInkOf(result.timeline, line, walked),
    differing: differingOf(free, result, result.timeline.choruses),
    spread,
    ends: { first: stays[0] ?? null, last: stays.at(-1) ?? null },
  };
}

const whole = (measures: readonly Measure[]): Measure => measures.reduce(addMeasures, noMeasure);

function wishPlan(
  wish: NightWish,
  found: Found,
  at: number,
  now: { readonly night: Measure; readonly solved: readonly (SolvedTune | null)[] },
  before: Measure,
): WishPlan {
  if (!isPriced(wish)) {
    const reached = now.night.longestStay?.seconds ?? 0;
    const holds = reached <= wish.seconds + tolerance;
    return { wish, holds, reached, before: before.longestStay?.seconds ?? 0, nearest: null, price: null };
  }
  return {
    wish,
    holds: isKept(wish, now.solved),
    reached: now.night.byRegion[wish.region],
    before: before.byRegion[wish.region],
    nearest: found.missed.get(at) ?? null,
    price: found.prices[at] ?? 0,
  };
}

/** A tune walked freely, with what is remembered of it. */
interface Known {
  readonly solver: TuneSolver;
  readonly free: WalkResult;
  /** Figures of its lines by what was asked: a price comes up again when another wish takes its turn, and in the next plan. */
  readonly figures: Cache<string, { readonly solved: SolvedTune | null }>;
  /** The line that was solved last. */
  readonly lines: Cache<string, WalkResult>;
}

/** The line of a tune under prices; the one that was solved last is not solved again. */
function lineOf(known: Known, desk: TuneDesk, prices: WishPrices): WalkResult {
  return getOrMake(known.lines, askedOf(desk, prices), () => walkUnder(desk, prices));
}

/** Figures of a tune that are kept. */
const mostFigures = 1000;

/** What one plan leaves for the next: a wish that moves leaves all tunes as they are. By what is asked of a tune. */
export type NightCaches = Map<string, Known>;

/** The tunes of a night without wishes; those of an earlier plan need not be walked again, and others are forgotten. */
function walkAll(tunes: readonly NightTune[], remembered: NightCaches, watch: WatchNight): readonly Known[] {
  const keys = tunes.map(({ request }) => JSON.stringify(request));
  const before = new Map(remembered);
  remembered.clear();
  let last: Caches | null = null;
  return keys.map((key, at) => {
    watch((shares.free * at) / tunes.length);
    const known = remembered.get(key) ?? before.get(key);
    const solver = known?.solver ?? solverOf(tunes[at]!, last ? cachesBeside(last) : emptyCaches());
    const found = known ?? {
      solver,
      free: walkFreely(tunes[at]!, solver),
      figures: makeCache({ most: mostFigures }),
      lines: makeCache({ most: 1 }),
    };
    remembered.set(key, found);
    last = solver.caches;
    return found;
  });
}

/**
 * Plans a night. Every tune's line is what `walk` gives for its request under the prices that are told.
 * @param remembered what an earlier plan left; the outcome is the same without it
 */
export function planNight(
  request: NightRequest,
  watch: WatchNight = () => undefined,
  remembered: NightCaches = new Map(),
): NightPlan {
  const tunes = request.sets.flat();
  const known = walkAll(tunes, remembered, watch);
  const free = known.map((one) => one.free);
  const isStayWished = request.wishes.some((wish) => !isPriced(wish));
  const begun = isStayWished ? shares.held : shares.free;
  // A tune that cannot keep the longest stay is played without it: the wish is then told as not kept.
  const desks = tunes.map((tune, at): TuneDesk => {
    watch(shares.free + ((begun - shares.free) * at) / tunes.length);
    const desk = deskOf(tune, request.wishes, tempoOf(free[at]!), known[at]!.solver);
    if (desk.stay === null || !isWalked(free[at]!)) return desk;
    return isWalked(lineOf(known[at]!, desk, [])) ? desk : { ...desk, stay: null };
  });
  const wishes = request.wishes.filter(isPriced);
  // The last lines are kept: those of the plan are among them.
  const lineUnder = (at: number, prices: WishPrices): WalkResult => {
    const desk = desks[at]!;
    const isFree = desk.stay === null && prices.every((price) => price === 0);
    return isFree ? free[at]! : lineOf(known[at]!, desk, prices);
  };
  const solve = (at: number, prices: WishPrices): SolvedTune | null => {
    const { figures } = known[at]!;
    const asked = askedOf(desks[at]!, prices);
    const before = figures.get(asked);
    if (before) return before.solved;
    const desk = desks[at]!;
    const isKnown = prices.every((price) => price === 0) || known[at]!.lines.peek(asked) !== undefined;
    const figured = isKnown ? undefined : figuresUnder(desk, prices);
    const solved = figured === undefined ? solvedOf(desk, lineUnder(at, prices), prices) : figured;
    figures.set(asked, { solved });
    return solved;
  };
  const found = findPrices(
    desks.map(({ tempo }) => tempo),
    wishes,
    solve,
    (done) => {
      watch(begun + (shares.search - begun) * done);
    },
  );
  const planned = tunes.map((tune, at): TunePlan => {
    watch(shares.search + ((1 - shares.search) * at) / tunes.length);
    const result = lineUnder(at, found.prices);
    const spread =
      request.takes > 0 && isWalked(result) ? spreadOf(desks[at]!, found.prices, request.takes) : null;
    return planOf(tune, free[at]!, result, spread);
  });

  let next = 0;
  const sets = request.sets.map((set) => set.map(() => planned[next++]!));
  const bySet = sets.map((set) => whole(set.map(({ measure }) => measure)));
  const night = whole(bySet);
  const before = whole(
    tunes.map(({ walked }, at) => {
      const result = free[at]!;
      return isWalked(result) ? measureOf(result.timeline, result.line, walked) : unwalked(result.timeline);
    }),
  );
  let priced = 0;
  return {
    sets,
    bySet,
    whole: night,
    wishes: request.wishes.map((wish) =>
      wishPlan(wish, found, isPriced(wish) ? priced++ : -1, { night, solved: found.solved }, before),
    ),
    cost: sumOf(found.solved, ({ cost }) => cost),
    costBefore: tunes.reduce((sum, { walked }, at) => sum + (free[at]!.line?.cost ?? 0) * walked, 0),
    gap: Math.max(0, gapOf(wishes, found.solved, found.prices)),
    steps: found.steps,
  };
}
