// The line, and the chart as it is understood, as JSON for other programs.
import { stringNumeral, type Placement } from '../instrument';
import { scientificName, printKey, numberOfBar, type Key } from '../music';
import { meterText, type Chart, type Problem } from '../pipeline/1-chart';
import type { Timeline, TimelineChord } from '../pipeline/2-timeline';
import { carriedRun, nextPlace, type HandReport, type LineNote } from '../pipeline/5-line';
import type { Explanation, SlotExplanation, WalkResult } from '../pipeline';
import { degreeObject, deviceObject } from './devices';
import { rounded } from './names';
import { playerObject, type FingeredFor } from './player-json';
import type { PositionNamer } from './position-marks';

/** An object ready to be written. */
type JsonObject = Readonly<Record<string, unknown>>;

const keyText = (key: Key | null | undefined): string | null => (key ? printKey(key) : null);

const problemObject = ({ code, severity, line, column, length, message }: Problem): JsonObject => ({
  code,
  severity,
  line,
  column,
  length,
  message,
});

/** The place of the next stopped note; past the last one that to which open strings carry the hand. */
function nextName(
  notes: readonly LineNote[],
  { index, carry }: LineNote,
  naming: PositionNamer,
): string | null {
  const next = nextPlace(notes, index, false) ?? carry?.to;
  return next === undefined ? null : naming.positionName(next);
}

const isCovered = ({ move }: LineNote): boolean => move.kind === 'covered shift';

/** Whether a carry is told of a note: on the open string that the solver moves the hand on, else on the first of the run. */
function tellsCarry(notes: readonly LineNote[], note: LineNote): boolean {
  if (note.carry === null) return false;
  const { first, last } = carriedRun(notes, note.index);
  return notes.slice(first, last + 1).some(isCovered) ? isCovered(note) : note.index === first;
}

/** @param notes those of the whole line that the note is of */
export const noteObject = (
  note: LineNote,
  naming: PositionNamer,
  notes: readonly LineNote[],
): JsonObject => ({
  bar: note.bar,
  beat: note.beat,
  tick: note.tick,
  ticks: note.ticks,
  midi: note.midi,
  name: scientificName(note.pitch),
  chord: note.harmony.chord?.symbol ?? null,
  degree: degreeObject(note.degree),
  device: note.device,
  label: note.label,
  role: note.role,
  string: stringNumeral(note.placement.string),
  stop: note.placement.stop,
  finger: note.placement.finger,
  position: naming.positionName(note.placement.position),
  positionSemitone: note.placement.position,
  cost: note.cost,
  reason: note.reason,
  rulesKept: note.rules.filter(({ isKept }) => isKept).map(({ rule }) => rule),
  rulesStretched: note.rules.filter(({ isKept }) => !isKept).map(({ rule }) => rule),
  nextPosition: nextName(notes, note, naming),
  carry:
    note.carry && tellsCarry(notes, note)
      ? { from: naming.positionName(note.carry.from), to: naming.positionName(note.carry.to) }
      : null,
  items: note.items,
});

/** A place of a route: its pitch and where the hand has it. */
const placeObject = (placement: Placement, naming: PositionNamer): JsonObject => ({
  midi: placement.midi,
  string: stringNumeral(placement.string),
  stop: placement.stop,
  finger: placement.finger,
  position: naming.positionName(placement.position),
});

const choicesOf = (choices: number | null): number | null => (choices === null ? null : rounded(choices, 3));

/** What is known of a beat beyond its note: prices in thousandths against the best line, elbow room in choices a beat. */
const explanationObject = (slot: SlotExplanation, naming: PositionNamer): JsonObject => ({
  price: slot.price,
  openStringBuys: slot.openStringBuys,
  ...(slot.openStringRoutes
    ? {
        openStringRoutes: {
          fromNote: slot.openStringRoutes.first,
          open: slot.openStringRoutes.open.map((placement) => placeObject(placement, naming)),
          stopped: slot.openStringRoutes.stopped.map((placement) => placeObject(placement, naming)),
        },
      }
    : {}),
  elbowRoom: choicesOf(slot.choices),
  boxedIn: slot.isBoxedIn,
  alternatives: slot.spots.map(({ placement, pitch, label, role, price, choices }) => ({
    midi: placement.midi,
    name: scientificName(pitch),
    label,
    role,
    string: stringNumeral(placement.string),
    stop: placement.stop,
    finger: placement.finger,
    position: naming.positionName(placement.position),
    positionSemitone: placement.position,
    price,
    elbowRoom: choicesOf(choices),
  })),
});

/** mm */
const distancesObject = ({ total, mean, longest }: HandReport['bareDistance']): JsonObject => ({
  total: rounded(total, 1),
  mean: rounded(mean, 1),
  longest: rounded(longest, 1),
});

const reportObject = (report: HandReport, naming: PositionNamer): JsonObject => ({
  beats: report.beats,
  byRegion: report.byRegion.map(({ region, beats, share }) => ({ region, beats, share: rounded(share, 4) })),
  byPosition: report.byPosition.map(({ position, numeral, beats }) => ({
    position: numeral,
    positionSemitone: position,
    beats,
  })),
  bareShifts: report.bareShifts,
  coveredShifts: report.coveredShifts,
  pivots: report.pivots,
  stretches: report.stretches,
  sameFingerShifts: report.sameFingerShifts,
  byArm: report.byArm.map(({ zone, beats, share }) => ({ zone, beats, share: rounded(share, 4) })),
  bareDistance: distancesObject(report.bareDistance),
  coveredDistance: distancesObject(report.coveredDistance),
  holds: { ...report.holds },
  crossings: report.crossings,
  heelJumps: report.heelJumps,
  longestStay: report.longestStay,
  hardestMove: report.hardestMove && {
    bar: report.hardestMove.bar,
    beat: report.hardestMove.beat,
    semitones: report.hardestMove.semitones,
    kind: report.hardestMove.move.kind,
    from: naming.positionName(report.hardestMove.move.from),
    to: naming.positionName(report.hardestMove.move.to),
    millimetres: rounded(report.hardestMove.move.distance, 1),
    seconds: rounded(report.hardestMove.move.time, 3),
    needed: rounded(report.hardestMove.needed, 3),
    pressure: rounded(report.hardestMove.move.pressure, 3),
  },
});

const write = (value: unknown): string => `${JSON.stringify(value, null, 2)}\n`;

/**
 * The result of a walk. `midi` and `name` are the sound ("Bb1" = 34); times are in ticks of 480 to a quarter; string I is
 * the highest; costs are whole thousandths, and those of the notes add up to that of the line. Without a line, `notes` is
 * empty, `cost` and `report` are null and `impossible` says why. A note's `degree` is what it is in its chord, `device` what
 * stands for it where more than its degree does, `label` either in words; `nextPosition` is that of the next stopped note (null
 * after the last), and a `carry` on the open string that the solver moves the hand on goes from the last stopped place to it; `devices` are all that its notes do together. With an explanation every note has its price, what an open
 * string buys (with both routes, from the first of their notes that differs), its elbow room and the other ways at that
 * beat, cheapest first. `fingeredFor` says for whom: bass, hand, limits and way, so that a fingering can be checked from the
 * file alone.
 */
export function toJson(
  result: WalkResult,
  naming: PositionNamer,
  explanation: Explanation | null = null,
  fingeredFor: FingeredFor | null = null,
): string {
  const { chart, timeline, line, impossible } = result;
  const explained = (index: number): JsonObject => {
    const slot = explanation?.slots[index];
    return slot ? explanationObject(slot, naming) : {};
  };
  return write({
    title: chart.header.title,
    key: keyText(timeline?.key ?? chart.header.key),
    tempo: timeline?.tempo ?? chart.header.tempo,
    ...(fingeredFor ? { fingeredFor: playerObject(fingeredFor, naming) } : {}),
    cost: line?.cost ?? null,
    costUnit: 'thousandths',
    notes:
      line?.notes.map((note) => ({
        ...noteObject(note, naming, line.notes),
        ...explained(note.index),
      })) ?? [],
    devices: line?.devices.map((span) => deviceObject(span, line.notes)) ?? [],
    report: line && reportObject(line.report, naming),
    impossible: impossible && {
      message: impossible.message,
      conflict: impossible.conflict.map(({ words }) => words),
      cheapest: impossible.cheapest?.words ?? null,
      together: impossible.together.map(({ words }) => words),
      freeing: impossible.freeing.map((position) => naming.positionName(position)),
    },
    problems: result.problems.map(problemObject),
  });
}

const chordObject = ({ chord, beat }: TimelineChord): JsonObject => ({
  beat,
  symbol: chord?.symbol ?? 'N.C.',
  root: chord?.root ?? null,
  bass: chord?.bass ?? null,
  tones: chord?.tones.map(({ note }) => note) ?? [],
  ...(chord?.isAltered ? { choices: chord.colours.map(({ note }) => note) } : {}),
});

/**
 * The chart as it is understood, its bars in playing order with repeats, endings and jumps followed. Every chord has its
 * tones spelled, the root first; `bass` is the note after the slash, null without one; N.C. has neither root nor tones.
 * An altered chord has besides its tones the `choices` among which its fifth, ninth, eleventh and thirteenth are played.
 * @param timeline one chorus; null when nothing can be played, which leaves `bars` empty
 */
export function chartToJson(chart: Chart, timeline: Timeline | null, problems: readonly Problem[]): string {
  return write({
    title: chart.header.title,
    key: keyText(timeline?.key ?? chart.header.key),
    bars: (timeline?.bars ?? []).map((bar) => ({
      number: numberOfBar(bar.index),
      meter: meterText(bar.meter),
      chords: bar.chords.map(chordObject),
    })),
    problems: problems.map(problemObject),
  });
}
