// The line, and the chart as it is understood, as JSON for other programs.
import { pitchText, printKey, type Key } from '../music';
import type { Chart, Problem } from '../pipeline/1-chart';
import type { Timeline, TimelineChord } from '../pipeline/2-timeline';
import type { HandReport, LineNote } from '../pipeline/5-line';
import type { WalkResult } from '../pipeline';
import { meterText, rounded, stringNumeral } from './names';
import type { PositionNaming } from './position-marks';

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

const noteObject = (note: LineNote, naming: PositionNaming): JsonObject => ({
  bar: note.bar,
  beat: note.beat,
  tick: note.tick,
  ticks: note.ticks,
  midi: note.midi,
  name: pitchText(note.pitch),
  chord: note.harmony.chord?.symbol ?? null,
  role: note.role,
  string: stringNumeral(note.placement.string),
  stop: note.placement.stop,
  finger: note.placement.finger,
  position: naming.positionName(note.placement.position),
  positionSemitone: note.placement.position,
  cost: note.cost,
});

const reportObject = (report: HandReport, naming: PositionNaming): JsonObject => ({
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
    pressure: rounded(report.hardestMove.move.pressure, 3),
  },
});

const write = (value: unknown): string => `${JSON.stringify(value, null, 2)}\n`;

/**
 * The result of a walk. `midi` and `name` are the sound ("Bb1" = 34); times are in ticks of 480 to a quarter; string I is
 * the highest; costs are whole thousandths, and those of the notes add up to that of the line. Without a line, `notes` is
 * empty, `cost` and `report` are null and `impossible` says why.
 */
export function toJson(result: WalkResult, naming: PositionNaming): string {
  const { chart, timeline, line, impossible } = result;
  return write({
    title: chart.header.title,
    key: keyText(timeline?.key ?? chart.header.key),
    tempo: timeline?.tempo ?? chart.header.tempo,
    cost: line?.cost ?? null,
    costUnit: 'thousandths',
    notes: line?.notes.map((note) => noteObject(note, naming)) ?? [],
    report: line && reportObject(line.report, naming),
    impossible: impossible && {
      message: impossible.message,
      freeing: impossible.freeing.map((position) => naming.positionName(position)),
      conflict: impossible.conflict.map(({ words }) => words),
      cheapest: impossible.cheapest?.words ?? null,
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
});

/**
 * The chart as it is understood, its bars in playing order with repeats, endings and jumps followed. Every chord has its
 * tones spelled, the root first; `bass` is the note after the slash, null without one; N.C. has neither root nor tones.
 * @param timeline one chorus; null when nothing can be played, which leaves `bars` empty
 */
export function chartToJson(chart: Chart, timeline: Timeline | null, problems: readonly Problem[]): string {
  return write({
    title: chart.header.title,
    key: keyText(timeline?.key ?? chart.header.key),
    bars: (timeline?.bars ?? []).map((bar) => ({
      number: bar.index + 1,
      meter: meterText(bar.meter),
      chords: bar.chords.map(chordObject),
    })),
    problems: problems.map(problemObject),
  });
}
