// What the solver works on for a request: candidates under the wishes, the lattice over them, the model of its costs.
import { pitchText, spellPitch, noteName, pitchClass, type SoundingMidi } from '../music';
import { allPlacements, positionName, type Instrument, type Placement } from '../instrument';
import type { Slot, Timeline } from './2-timeline';
import {
  countStays,
  findCandidates,
  wishesOf,
  type SlotCandidates,
  type StayLimit,
  type Wish,
} from './3-candidates';
import type { Lattice } from './4-solver';
import { buildLattice, emptyTables, makeCostModel, type CostModel, type KeptTables } from './5-line';
import { highestPosition, walkingRange } from './range';
import type { WalkRequest } from './types';

export interface Setting {
  readonly candidates: readonly SlotCandidates[];
  readonly lattice: Lattice;
  readonly model: CostModel;
}

const plainNames = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'] as const;

/** A pitch as wishes name it, without knowing the chord. */
const plainPitch = (midi: SoundingMidi): string =>
  pitchText(spellPitch(midi, noteName(plainNames[pitchClass(midi)]!)));

/** The masks of a request. */
export function requestWishes(request: WalkRequest): readonly Wish[] {
  const { limits, pins = [], instrument, hand } = request;
  const stringName = (number: number): string => stringNumeral(instrument, number);
  return wishesOf(limits, pins, instrument, hand, { positionName, pitchName: plainPitch, stringName });
}

const stringNumeral = (instrument: Instrument, number: number): string =>
  instrument.strings.find((string) => string.number === number)?.numeral ?? String(number);

/** Where the last slot leads: the first one again, its chord new. It shapes the end of the line and is not played. */
export function withReturn(timeline: Timeline): readonly Slot[] {
  const first = timeline.slots[0]!;
  return [
    ...timeline.slots,
    { ...first, index: timeline.slots.length, bar: timeline.bars.length, isChange: true },
  ];
}

/** What one request leaves for the next: everything that only bass, hand, tempo and comfort decide. */
export interface Memory {
  playerKey: string;
  placements: readonly Placement[];
  modelKey: string;
  tables: KeptTables;
}

export const emptyMemory = (): Memory => ({
  playerKey: '',
  placements: [],
  modelKey: '',
  tables: emptyTables(),
});

function placementsFor({ instrument, hand }: WalkRequest, memory: Memory): readonly Placement[] {
  const playerKey = JSON.stringify([instrument, hand]);
  if (memory.playerKey !== playerKey) {
    memory.playerKey = playerKey;
    memory.placements = allPlacements(instrument, hand, { highestPosition });
  }
  return memory.placements;
}

function tablesFor(request: WalkRequest, timeline: Timeline, memory: Memory): KeptTables {
  const modelKey = JSON.stringify([
    request.instrument,
    request.hand,
    timeline.tempo,
    request.comfort,
    request.limits.stay,
  ]);
  if (memory.modelKey !== modelKey) {
    memory.modelKey = modelKey;
    memory.tables = emptyTables();
  }
  return memory.tables;
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
  const candidates = findCandidates(
    withReturn(timeline),
    placements,
    walkingRange(request.instrument),
    wishes,
  );
  return stay ? countStays(candidates, placements, stay) : { candidates, placements };
}

/** Null when a slot has nothing to play. */
export function makeSetting(
  request: WalkRequest,
  timeline: Timeline,
  wishes: readonly Wish[],
  stay: StayLimit | undefined = request.limits.stay,
  memory: Memory = emptyMemory(),
): Setting | null {
  const { candidates, placements } = candidatesUnder(request, timeline, wishes, stay, memory);
  if (candidates.some((one) => one.placements.length === 0)) return null;
  const player = { instrument: request.instrument, hand: request.hand };
  const model = makeCostModel(player, timeline.tempo, request.comfort);
  return {
    candidates,
    model,
    lattice: buildLattice(candidates, placements, model, tablesFor(request, timeline, memory)),
  };
}
