// The problem instance of a request: candidates under the wishes, the lattice over them, the model of its costs.
import { getOrMake, makeCache, type Cache } from '../../cache';
import { barIndex, plainPitch, scientificName } from '../../music';
import { allPlacements, positionName, stringName, type Placement } from '../../instrument';
import { goesRound, type Slot, type Timeline } from '../2-timeline';
import {
  beginUnderHand,
  countStays,
  emptySets,
  emptyStays,
  findCandidates,
  wishesOf,
  type KnownSets,
  type KnownStays,
  type RegionPrice,
  type SlotCandidates,
  type StayLimit,
  type Wish,
} from '../3-candidates';
import { emptySolvedCache, Vectors, type Lattice, type SolvedCache, type WatchPass } from '../4-solver';
import {
  buildLattice,
  emptyTables,
  gentleLattice,
  makeAutomata,
  makeCostModel,
  type Automata,
  type CostModel,
  type KeptTables,
} from '../5-line';
import { priced } from './prices';
import { highestPositionIn, livesAtOctave, walkingRange } from './range';
import { keptWishes } from './keep';
import type { WalkRequest } from '../types';

/** Everything that is solved for one request; built once, and walked by every pass after it. */
export interface ProblemInstance {
  readonly candidates: readonly SlotCandidates[];
  readonly lattice: Lattice;
  readonly model: CostModel;
  /** How many of the slots are played, all when left out; one after them is the return to the top. */
  readonly played?: number;
}

/** The masks of a request; those of locked bars only with the timeline they stand in. */
export function requestWishes(request: WalkRequest, timeline?: Timeline): readonly Wish[] {
  const { limits, pins = [], instrument, hand } = request;
  return [
    ...wishesOf(limits, pins, instrument, hand, {
      positionName,
      pitchName: (midi) => scientificName(plainPitch(midi)),
      stringName: (number) => stringName(instrument, number),
    }),
    ...(timeline ? keptWishes(request, timeline) : []),
  ];
}

/** Where the last slot leads: the first one again, its chord new. It shapes the end of the line and is not played. */
export function withReturn(timeline: Timeline): readonly Slot[] {
  const first = timeline.slots[0]!;
  return [
    ...timeline.slots,
    { ...first, index: timeline.slots.length, bar: barIndex(timeline.bars.length), isChange: true },
  ];
}

/** What a bass and a hand alone decide. */
interface PlayerSets {
  readonly placements: readonly Placement[];
  readonly sets: KnownSets;
}

interface ModelTables {
  readonly strict: KeptTables;
  /** Those of lines that may break what is never done; empty where no wish asked for one. */
  readonly lenient: KeptTables;
}

/** What one request leaves for the next: everything that only bass, hand, tempo and comfort decide. */
export interface Caches {
  /** By bass, hand and the highest position. */
  readonly players: Cache<string, PlayerSets>;
  /** By player and limit. */
  readonly stays: Cache<string, KnownStays>;
  /** By everything that costs depend on. */
  readonly models: Cache<string, ModelTables>;
  readonly automata: Automata;
  readonly vectors: Vectors;
  /** Told how far the computation has come. */
  watch: WatchPass;
}

/** Of the last player, limit and model: the next request mostly has the same. */
const lastOne = { most: 1 } as const;

export const emptyCaches = (): Caches => ({
  players: makeCache(lastOne),
  stays: makeCache(lastOne),
  models: makeCache(lastOne),
  automata: makeAutomata(),
  vectors: new Vectors(),
  watch: () => undefined,
});

/** For another chart beside the first: what bass and hand alone decide is shared. */
export function cachesBeside({ players, automata, vectors }: Caches): Caches {
  const beside = { ...emptyCaches(), automata, vectors };
  for (const [player, sets] of players.entries()) beside.players.set(player, sets);
  return beside;
}

/** What the solver remembers of the lines that were asked for last; undefined before the first. */
export const solvedIn = ({ models }: Caches): SolvedCache | undefined =>
  [...models.values()][0]?.strict.solver;

/** Lets go of what the solver remembers, the larger part: what bass, hand and tempo decide stays. */
export function forgetSolved({ models }: Caches): void {
  for (const { strict, lenient } of models.values())
    for (const tables of [strict, lenient]) tables.solver = emptySolvedCache();
}

const playerKeyOf = ({ instrument, hand, limits }: WalkRequest): string =>
  JSON.stringify([instrument, hand, highestPositionIn(limits.place)]);

function playerSets(request: WalkRequest, { players }: Caches): PlayerSets {
  const { instrument, hand, limits } = request;
  return getOrMake(players, playerKeyOf(request), () => ({
    placements: allPlacements(instrument, hand, { highestPosition: highestPositionIn(limits.place) }),
    sets: emptySets(),
  }));
}

function tablesFor(request: WalkRequest, timeline: Timeline, isStrict: boolean, caches: Caches): KeptTables {
  const modelKey = JSON.stringify([
    request.instrument,
    request.hand,
    timeline.tempo,
    request.comfort,
    request.limits.stay,
    highestPositionIn(request.limits.place),
  ]);
  const { strict, lenient } = getOrMake(caches.models, modelKey, () => ({
    strict: emptyTables(),
    lenient: emptyTables(),
  }));
  const tables = isStrict ? strict : lenient;
  tables.solver.watch = caches.watch;
  return tables;
}

/** Candidates and the table they point into, under some of the wishes. */
export function candidatesUnder(
  request: WalkRequest,
  timeline: Timeline,
  wishes: readonly Wish[],
  stay: StayLimit | undefined,
  caches: Caches = emptyCaches(),
): { readonly candidates: readonly SlotCandidates[]; readonly placements: readonly Placement[] } {
  const { placements, sets } = playerSets(request, caches);
  const found = findCandidates(
    goesRound(request.ending) ? withReturn(timeline) : timeline.slots,
    placements,
    walkingRange(request.instrument),
    wishes,
    sets,
  );
  const candidates = beginUnderHand(found, sets);
  if (!stay) return { candidates, placements };
  const staysKey = JSON.stringify([playerKeyOf(request), stay]);
  return countStays(candidates, placements, stay, getOrMake(caches.stays, staysKey, emptyStays));
}

/** The same with nothing remembered of what was solved in it. */
export const withoutSolved = (instance: ProblemInstance): ProblemInstance => ({
  ...instance,
  lattice: { ...instance.lattice, cache: emptySolvedCache() },
});

/** An instance made without prices, with the prices of a request laid on it. */
export function underPrices(
  instance: ProblemInstance,
  prices: readonly RegionPrice[] | undefined,
): ProblemInstance {
  const { candidates, lattice, played = candidates.length } = instance;
  return prices ? { ...instance, lattice: priced(lattice, candidates, prices, played) } : instance;
}

/**
 * Null when a slot has nothing to play. No price is laid on it.
 * @param isStrict whether what the rules of the line never allow is left out
 */
export function makeUnpriced(
  request: WalkRequest,
  timeline: Timeline,
  wishes: readonly Wish[],
  stay: StayLimit | undefined = request.limits.stay,
  caches: Caches = emptyCaches(),
  isStrict = true,
): ProblemInstance | null {
  const { candidates, placements } = candidatesUnder(request, timeline, wishes, stay, caches);
  if (candidates.some((one) => one.placements.length === 0)) return null;
  const player = {
    instrument: request.instrument,
    hand: request.hand,
    livesAtOctave: livesAtOctave(request.limits.place),
  };
  const model = makeCostModel(player, timeline.tempo, request.comfort, isStrict);
  const tables = tablesFor(request, timeline, isStrict, caches);
  const lattice = buildLattice(candidates, placements, model, tables, caches.automata, caches.vectors);
  const { hardest } = request.limits;
  const gentle =
    hardest === undefined ? lattice : gentleLattice(lattice, candidates, placements, model, hardest);
  return { candidates, model, played: timeline.slots.length, lattice: gentle };
}

/** As `makeUnpriced`, under the prices of the request. */
export function makeInstance(...made: Parameters<typeof makeUnpriced>): ProblemInstance | null {
  const instance = makeUnpriced(...made);
  return instance && underPrices(instance, made[0].limits.prices);
}
