// What the solver works on for a request: candidates under the wishes, the lattice over them, the model of its costs.
import { pitchText, spellPitch, noteName, pitchClass, barIndex, type SoundingMidi } from '../music';
import { allPlacements, positionName, stringName, type Placement } from '../instrument';
import { goesRound, type Slot, type Timeline } from './2-timeline';
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
} from './3-candidates';
import { emptySolvedCache, Vectors, type Lattice, type WatchPass } from './4-solver';
import {
  buildLattice,
  emptyTables,
  gentleLattice,
  makeAutomata,
  makeCostModel,
  type Automata,
  type CostModel,
  type KeptTables,
} from './5-line';
import { priced } from './prices';
import { highestPositionIn, livesAtOctave, walkingRange } from './range';
import { keptWishes } from './keep';
import type { WalkRequest } from './types';

export interface Setting {
  readonly candidates: readonly SlotCandidates[];
  readonly lattice: Lattice;
  readonly model: CostModel;
  /** How many of the slots are played, all when left out; one after them is the return to the top. */
  readonly played?: number;
}

const plainNames = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'] as const;

/** A pitch class as wishes name it, without knowing the chord. */
export const plainName = (one: number): string => plainNames[((one % 12) + 12) % 12]!;

/** A pitch as wishes name it, without knowing the chord. */
const plainPitch = (midi: SoundingMidi): string =>
  pitchText(spellPitch(midi, noteName(plainNames[pitchClass(midi)]!)));

/** The masks of a request; those of locked bars only with the timeline they stand in. */
export function requestWishes(request: WalkRequest, timeline?: Timeline): readonly Wish[] {
  const { limits, pins = [], instrument, hand } = request;
  return [
    ...wishesOf(limits, pins, instrument, hand, {
      positionName,
      pitchName: plainPitch,
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

/** What one request leaves for the next: everything that only bass, hand, tempo and comfort decide. */
export interface Memory {
  playerKey: string;
  placements: readonly Placement[];
  sets: KnownSets;
  staysKey: string;
  stays: KnownStays;
  modelKey: string;
  tables: KeptTables;
  /** Those of lines that may break what is never done; empty where no wish asked for one. */
  lenientTables: KeptTables;
  automata: Automata;
  vectors: Vectors;
  /** Told how far the computation has come. */
  watch: WatchPass;
}

export const emptyMemory = (): Memory => ({
  playerKey: '',
  placements: [],
  sets: emptySets(),
  staysKey: '',
  stays: emptyStays(),
  modelKey: '',
  tables: emptyTables(),
  lenientTables: emptyTables(),
  automata: makeAutomata(),
  vectors: new Vectors(),
  watch: () => undefined,
});

/** For another chart beside the first: what bass and hand alone decide is shared, as long as it is not too much. */
export const memoryBeside = ({ playerKey, placements, sets, automata, vectors }: Memory): Memory =>
  2 * (sets.left.size + sets.offered.size) > mostSets
    ? { ...emptyMemory(), automata, vectors }
    : { ...emptyMemory(), playerKey, placements, sets, automata, vectors };

/** Lets go of what the solver remembers, the larger part: what bass, hand and tempo decide stays. */
export function forgetSolved(memory: Memory): void {
  memory.tables = { ...memory.tables, solver: emptyTables().solver };
  memory.lenientTables = { ...memory.lenientTables, solver: emptyTables().solver };
}

function placementsFor({ instrument, hand, limits }: WalkRequest, memory: Memory): readonly Placement[] {
  const highestPosition = highestPositionIn(limits.place);
  const playerKey = JSON.stringify([instrument, hand, highestPosition]);
  if (memory.playerKey !== playerKey) {
    memory.playerKey = playerKey;
    memory.placements = allPlacements(instrument, hand, { highestPosition });
    memory.sets = emptySets();
  }
  return memory.placements;
}

/** Sets of candidates beyond which those kept are forgotten. */
const mostSets = 4096;

function setsFor(memory: Memory): KnownSets {
  if (memory.sets.left.size + memory.sets.offered.size > mostSets) memory.sets = emptySets();
  return memory.sets;
}

function staysFor(stay: StayLimit, memory: Memory): KnownStays {
  const staysKey = JSON.stringify([memory.playerKey, stay]);
  if (memory.staysKey !== staysKey || memory.stays.sets.size > mostSets) {
    memory.staysKey = staysKey;
    memory.stays = emptyStays();
  }
  return memory.stays;
}

function tablesFor(request: WalkRequest, timeline: Timeline, isStrict: boolean, memory: Memory): KeptTables {
  const modelKey = JSON.stringify([
    request.instrument,
    request.hand,
    timeline.tempo,
    request.comfort,
    request.limits.stay,
    highestPositionIn(request.limits.place),
  ]);
  if (memory.modelKey !== modelKey) {
    memory.modelKey = modelKey;
    memory.tables = emptyTables();
    memory.lenientTables = emptyTables();
  }
  const tables = isStrict ? memory.tables : memory.lenientTables;
  tables.solver.watch = memory.watch;
  return tables;
}

/** Candidates and the table they point into, under some of the wishes. */
export function candidatesUnder(
  request: WalkRequest,
  timeline: Timeline,
  wishes: readonly Wish[],
  stay: StayLimit | undefined,
  memory: Memory = emptyMemory(),
): { readonly candidates: readonly SlotCandidates[]; readonly placements: readonly Placement[] } {
  const placements = placementsFor(request, memory);
  const sets = setsFor(memory);
  const found = findCandidates(
    goesRound(request.ending) ? withReturn(timeline) : timeline.slots,
    placements,
    walkingRange(request.instrument),
    wishes,
    sets,
  );
  const candidates = beginUnderHand(found, sets);
  return stay ? countStays(candidates, placements, stay, staysFor(stay, memory)) : { candidates, placements };
}

/** The same with nothing remembered of what was solved in it. */
export const withoutSolved = (setting: Setting): Setting => ({
  ...setting,
  lattice: { ...setting.lattice, cache: emptySolvedCache() },
});

/** A setting made without prices, with the prices of a request laid on it. */
export function underPrices(setting: Setting, prices: readonly RegionPrice[] | undefined): Setting {
  const { candidates, lattice, played = candidates.length } = setting;
  return prices ? { ...setting, lattice: priced(lattice, candidates, prices, played) } : setting;
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
  memory: Memory = emptyMemory(),
  isStrict = true,
): Setting | null {
  const { candidates, placements } = candidatesUnder(request, timeline, wishes, stay, memory);
  if (candidates.some((one) => one.placements.length === 0)) return null;
  const player = {
    instrument: request.instrument,
    hand: request.hand,
    livesAtOctave: livesAtOctave(request.limits.place),
  };
  const model = makeCostModel(player, timeline.tempo, request.comfort, isStrict);
  const tables = tablesFor(request, timeline, isStrict, memory);
  const lattice = buildLattice(candidates, placements, model, tables, memory.automata, memory.vectors);
  const { hardest } = request.limits;
  const gentle =
    hardest === undefined ? lattice : gentleLattice(lattice, candidates, placements, model, hardest);
  return { candidates, model, played: timeline.slots.length, lattice: gentle };
}

/** As `makeUnpriced`, under the prices of the request. */
export function makeSetting(...made: Parameters<typeof makeUnpriced>): Setting | null {
  const setting = makeUnpriced(...made);
  return setting && underPrices(setting, made[0].limits.prices);
}
