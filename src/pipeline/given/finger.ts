// A given line and the hand: the lattice of a walking line with one pitch a slot, weighed for the hand alone.
import { bpm, spellPitch, tempoRange, type Bpm, type Milli } from '../../music';
import { allPlacements, highestPitch, lowestPitch, type Hand, type Placement } from '../../instrument';
import type { Problem } from '../1-chart';
import type { Timeline } from '../2-timeline';
import {
  beginUnderHand,
  countStays,
  isPinnedAt,
  placementsByPitch,
  type Limits,
  type SlotCandidates,
  type Wish,
} from '../3-candidates';
import { bestPath, type Path } from '../4-solver';
import {
  buildLattice,
  gentleLattice,
  makeCostModel,
  makeLine,
  scaled,
  stretchFeature,
  type CostModel,
  type Line,
  type LineNote,
} from '../5-line';
import { highestPositionIn, livesAtOctave } from '../problem/range';
import { overLeastOf } from '../problem/prices';
import { underPrices, type ProblemInstance } from '../problem/instance';
import { keepShares } from '../choice/shares';
import { keepSpread } from '../choice/spread';
import { givenWishes } from './wishes';
import { explainGiven } from './impossible';
import { timelineOf } from './slots';
import { usualHold, usualMove, usualWayOf } from './usual';
import { noteReason } from './words';
import { givenLimits } from './notes';
import type { GivenNote, GivenRequest, GivenResult } from './types';

/** What is wrong with the notes, each by its number. */
function checkNotes(notes: readonly GivenNote[], request: GivenRequest): readonly Problem[] {
  const problems: Problem[] = [];
  const lowest = lowestPitch(request.instrument);
  const highest = highestPitch(request.instrument);
  const add = (index: number, code: string, message: string): void => {
    if (problems.length < 100)
      problems.push({ line: 1, column: index + 1, length: 1, code, severity: 'error', message });
  };
  if (notes.length > givenLimits.notes)
    add(givenLimits.notes, 'too-many-notes', `No more than ${givenLimits.notes} notes are fingered.`);
  let end = 0;
  notes.forEach(({ midi, tick, ticks }, index) => {
    const which = `Note ${index + 1}`;
    if (midi < lowest) add(index, 'too-low', `${which} is below the lowest note of this bass.`);
    if (midi > highest) add(index, 'too-high', `${which} is above the highest stop of this bass.`);
    if (ticks <= 0) add(index, 'no-length', `${which} has no length.`);
    if (tick < end) add(index, 'overlap', `${which} begins before the note before it ends.`);
    end = tick + ticks;
  });
  return problems;
}

/** Only what the hand pays for; in the usual way, what a first teacher counts. */
function modelFor(request: GivenRequest, tempo: Bpm): CostModel {
  const player = {
    instrument: request.instrument,
    hand: handFor(request),
    livesAtOctave: livesAtOctave(request.limits.place),
  };
  const whole = makeCostModel(player, tempo, request.comfort ?? 1);
  const place = scaled([stretchFeature(player, tempo)], request.comfort ?? 1);
  const hand = { ...whole, pitch: [], place, step: [], grammar: [] };
  return request.way === 'usual' ? { ...hand, place: [], hold: usualHold, move: usualMove } : hand;
}

/** The usual way knows 1-2-4 only; on a fretted neck it is one finger a fret. */
const handFor = ({ hand, way, instrument }: GivenRequest): Hand =>
  way === 'usual' ? { ...hand, way: usualWayOf(instrument) } : hand;

/** Ways to hold the notes, as far up as walking lines go, and further for notes that lie only there. */
function placementsFor(notes: readonly GivenNote[], request: GivenRequest): readonly Placement[] {
  const { instrument } = request;
  const top = Math.max(...instrument.strings.map((string) => string.open));
  const needed = Math.max(...notes.map((note) => note.midi)) - top;
  const pinned = Math.max(0, ...(request.pins ?? []).map((pin) => pin.position ?? pin.stop ?? 0));
  const highest = Math.min(
    instrument.highestStop,
    36,
    Math.max(highestPositionIn(request.limits.place), needed, pinned),
  );
  const pivots = request.way !== 'usual';
  const pitches = new Set(notes.map(({ midi }) => midi));
  return allPlacements(instrument, handFor(request), { highestPosition: highest, pivots })
    .filter(({ midi }) => pitches.has(midi))
    .map((placement, id) => ({ ...placement, id }));
}

/** One pitch a slot, every way to hold it that the wishes leave. */
function candidatesFor(
  timeline: Timeline,
  notes: readonly GivenNote[],
  placements: readonly Placement[],
  wishes: readonly Wish[],
): readonly SlotCandidates[] {
  const byPitch = placementsByPitch(placements);
  const found = timeline.slots.map((slot, index) => {
    const { midi } = notes[index]!;
    const mine = wishes.filter(({ source }) => source.kind === 'limit' || isPinnedAt(source.pin, slot));
    const own = (byPitch.get(midi) ?? []).filter((one) => mine.every((wish) => wish.allows(one, slot)));
    return { slot, pitches: [midi], placements: own, groupStart: [0, own.length] };
  });
  return beginUnderHand(found);
}

/** The notes with the names they were given, and reasons that speak of the hand. */
function withNames(line: Line, notes: readonly GivenNote[]): Line {
  const named = line.notes.map((note, index): LineNote => {
    const name = notes[index]!.name ?? note.pitch.name;
    return {
      ...note,
      pitch: spellPitch(note.midi, name),
      reason: noteReason(name, line.notes, index),
    };
  });
  return { ...line, notes: named };
}

/**
 * The cheapest fingering of a given line, the usual or the open way. Never throws: what is wrong with the notes is among
 * the problems, and where the wishes leave no fingering the result says why.
 */
export function fingerLine(notes: readonly GivenNote[], request: GivenRequest): GivenResult {
  const problems = checkNotes(notes, request);
  if (notes.length === 0 || problems.length > 0)
    return { problems, timeline: null, line: null, impossible: null };
  const tempo = bpm(Math.min(Math.max(request.tempo, tempoRange.least), tempoRange.most));
  const timeline =
    request.timeline?.slots.length === notes.length
      ? request.timeline
      : timelineOf(notes, { ...request, tempo });
  const wishes = givenWishes(request);
  const table = placementsFor(notes, request);
  const model = modelFor(request, tempo);
  const instanceUnder = (
    masks: readonly Wish[],
    { stay, hardest }: CarriedLimits,
  ): ProblemInstance | null => {
    const free = candidatesFor(timeline, notes, table, masks);
    if (free.some((one) => one.placements.length === 0)) return null;
    const { candidates, placements } = stay
      ? countStays(free, table, stay)
      : { candidates: free, placements: table };
    if (candidates.some((one) => one.placements.length === 0)) return null;
    const lattice = buildLattice(candidates, placements, model);
    const gentle =
      hardest === undefined ? lattice : gentleLattice(lattice, candidates, placements, model, hardest);
    return { candidates, model, lattice: gentle };
  };
  const found = fingeringIn(instanceUnder(wishes, request.limits), request.limits);
  if (found) {
    const { line, overLeast } = found;
    const fingered = { problems, timeline, line: withNames(line, notes), impossible: null };
    return overLeast === null ? fingered : { ...fingered, overLeast };
  }
  const impossible = explainGiven(request, wishes, {
    costUnder: (masks, carried) => fingeringIn(instanceUnder(masks, carried), {})?.line.cost ?? null,
    emptyUnder: (masks) =>
      candidatesFor(timeline, notes, table, masks).find((one) => one.placements.length === 0)?.slot,
  });
  return { problems, timeline, line: null, impossible };
}

/** The limits that are no masks but live in the lattice. */
type CarriedLimits = Pick<Limits, 'stay' | 'hardest'>;

interface Fingered {
  readonly line: Line;
  /** Null where no prices are laid. */
  readonly overLeast: Milli | null;
}

/** The cheapest line under the prices that keeps the shares; null when there is none. */
function fingeringIn(
  unpriced: ProblemInstance | null,
  { shares = [], spread = 0, prices }: Pick<Limits, 'shares' | 'spread' | 'prices'>,
): Fingered | null {
  if (!unpriced) return null;
  const instance = underPrices(unpriced, prices);
  const { candidates, model, lattice } = instance;
  const single = (from: ProblemInstance): Path | null => bestPath(from.lattice)?.path ?? null;
  const choose = (from: ProblemInstance): Path | null => keepShares(from, shares, single);
  const path = keepSpread(instance, spread, choose, single);
  if (!path) return null;
  const line = makeLine(candidates, path, candidates.length, model);
  return { line, overLeast: prices ? overLeastOf(lattice, path) : null };
}

/** A line without a note, as what is left once the last one is taken away. */
export const lineOfNone = (request: GivenRequest): Line =>
  makeLine([], [], 0, modelFor(request, request.tempo));

/** The same notes fingered both ways, to be shown side by side; limits and pins bind the open way alone. */
export interface BothWays {
  readonly usual: GivenResult;
  readonly open: GivenResult;
}

export const fingerBothWays = (
  notes: readonly GivenNote[],
  request: Omit<GivenRequest, 'way'>,
): BothWays => ({
  usual: fingerLine(notes, { ...request, way: 'usual', limits: { barredPositions: [] }, pins: [] }),
  open: fingerLine(notes, { ...request, way: 'open' }),
});
