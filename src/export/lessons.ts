// Lessons, rounds and lines in another key as text and as objects ready to be written as JSON.
import { printKey, type BarNumber } from '../music';
import { groundOf, layerOf, type Impossible, type Lesson, type Round, type CarriedLine } from '../pipeline';
import { wrapText } from './columns';
import { deviceObject } from './devices';
import { noteObject } from './json';
import { rounded } from './names';
import type { PositionNamer } from './position-marks';
import { toText, type TextOptions } from './text';

/** An object ready to be written. */
type JsonObject = Readonly<Record<string, unknown>>;

const widest = 96;
/** Beyond what lines differ by in cost: a note more or less may be changed. */
const wholeNote = 100_000_000;

/** A lesson with the layer that its line was made from, by name; null where it stands by itself. */
export interface ToldLesson {
  readonly lesson: Lesson;
  readonly from: string | null;
}

const impossibleObject = (impossible: Impossible, naming: PositionNamer): JsonObject => ({
  message: impossible.message,
  conflict: impossible.conflict.map(({ words }) => words),
  freeing: impossible.freeing.map((position) => naming.positionName(position)),
});

/**
 * `overLeastAtMost` is what the line may cost more than the least there is (0: it is the least; null: a take has no least).
 * `changed` is null where the lesson stands by itself: `notes` are indices of those that the line before has not at the
 * same moment, `fingers` of those it holds with another finger or on another string. Without a line `notes` is empty and
 * `impossible` says why.
 */
export function lessonObject({ lesson, from }: ToldLesson, naming: PositionNamer): JsonObject {
  const { layer, ground, timeline, line, impossible, changes, over } = lesson;
  return {
    layer,
    layerName: layerOf(layer).name,
    says: layerOf(layer).says,
    ground,
    groundName: groundOf(ground).name,
    from,
    title: timeline?.title ?? lesson.chart.header.title,
    key: timeline ? printKey(timeline.key) : null,
    tempo: timeline?.tempo ?? null,
    cost: line?.cost ?? null,
    costUnit: 'thousandths',
    overLeastAtMost: over,
    changed: changes && {
      count: changes.notes.length,
      of: line?.notes.length ?? 0,
      notes: changes.notes,
      fingers: changes.fingers,
    },
    notes: line?.notes.map((note) => noteObject(note, naming, line.notes)) ?? [],
    devices: line?.devices.map((span) => deviceObject(span, line.notes)) ?? [],
    impossible: impossible && impossibleObject(impossible, naming),
  };
}

const placeText = ({ bar, beat }: { readonly bar: BarNumber; readonly beat: number }): string =>
  `${bar}.${rounded(beat, 2)}`;

/** "14 of 48 notes changed from Frame": and where, by bar and beat. */
function changesText({ lesson: { line, changes }, from }: ToldLesson): readonly string[] {
  if (!line || !changes) return [];
  const said = `${changes.notes.length} of ${line.notes.length} notes changed from ${from}, ${changes.fingers.length} of the others held otherwise.`;
  const places = changes.notes.map((index) => placeText(line.notes[index]!)).join(' ');
  return [said, ...(places === '' ? [] : wrapText(`Changed: ${places}`, widest))];
}

/** How far the line may be from the least, where it was not proven to be it. */
const overText = ({ lesson: { over } }: ToldLesson): readonly string[] =>
  over === null || over === 0
    ? []
    : [
        over < wholeNote
          ? `No line with these shares of the neck is better by more than ${(over / 1000).toFixed(2)}.`
          : 'Whether another line with these shares of the neck changes fewer notes is not known.',
      ];

/** A lesson for the terminal: its sentence, what changed, and the line as `walk` tells it; why there is none otherwise. */
export function lessonToText(told: ToldLesson, naming: TextOptions): string {
  const { layer, ground, line, timeline, impossible } = told.lesson;
  const { name, says } = layerOf(layer);
  const heading = `${name}, ${groundOf(ground).name}: ${says}`;
  if (!line || !timeline)
    return `${heading}\n${impossible?.message ?? 'Nothing in this chart can be played.'}\n`;
  return [heading, ...changesText(told), ...overText(told), '', toText(timeline, line, naming)].join('\n');
}

/** `total` is the sum of the costs, the least there is; `missing` are keys and grounds that have no line. */
export const roundObject = ({ keys, total, missing }: Round, naming: PositionNamer): JsonObject => ({
  total,
  costUnit: 'thousandths',
  keys: keys.map(({ key, ground, cost, lesson }) => ({
    key: printKey(key),
    ground,
    groundName: groundOf(ground).name,
    cost,
    notes: lesson.line?.notes.map((note, _index, notes) => noteObject(note, naming, notes)) ?? [],
  })),
  missing: missing.map(({ key, ground, message }) => ({ key: printKey(key), ground, message })),
});

/** A row a key; then every line. */
export function roundToText({ keys, total }: Round, naming: TextOptions): string {
  const rows = keys.map(
    ({ key, ground, cost }, index) =>
      `${String(index + 1).padStart(2)}  ${printKey(key).padEnd(10)} ${groundOf(ground).name.padEnd(14)} ${(cost / 1000).toFixed(2).padStart(8)}`,
  );
  const lines = keys.map(({ key, ground, lesson: { line, timeline } }) =>
    line && timeline ? `${printKey(key)}, ${groundOf(ground).name}\n\n${toText(timeline, line, naming)}` : '',
  );
  return [
    ...rows,
    `    ${'together'.padEnd(25)} ${(total / 1000).toFixed(2).padStart(8)}`,
    '',
    ...lines,
  ].join('\n');
}

/** One line in another key; `folded` are indices of notes that went an octave further or less far to stay on the bass. */
export const carriedObject = (carried: CarriedLine, naming: PositionNamer): JsonObject => ({
  key: printKey(carried.key),
  semitones: carried.moved,
  folded: carried.folded,
  fingers: carried.fingers,
  strings: carried.strings,
  cost: carried.line?.cost ?? null,
  notes: carried.line?.notes.map((note, _index, notes) => noteObject(note, naming, notes)) ?? [],
  impossible: carried.impossible && impossibleObject(carried.impossible, naming),
});

export function carriedToText(carried: CarriedLine, naming: TextOptions): string {
  const { key, moved, folded, fingers, strings, line, timeline, impossible } = carried;
  const way = moved === 0 ? 'as it is' : `${Math.abs(moved)} semitones ${moved > 0 ? 'up' : 'down'}`;
  const octaves =
    folded.length === 0 ? '' : `, ${folded.length} notes an octave off that to stay on the bass`;
  const heading = `${printKey(key)}: ${way}${octaves}`;
  if (!line) return `${heading}\n${impossible?.message ?? ''}\n`;
  const hand = `Under the hand: ${fingers.length} of ${line.notes.length} notes with another finger, ${strings.length} on another string.`;
  return [heading, hand, '', toText(timeline, line, naming)].join('\n');
}

/** Objects as they stand in a file. */
export const asJson = (value: unknown): string => `${JSON.stringify(value, null, 2)}\n`;
