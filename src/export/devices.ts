// Labels and devices of a line as objects and as rows of text.
import { pitchText, printKey } from '../music';
import { deviceOf, toldSpans, type Degree, type DeviceSpan } from '../pipeline/5-line';
import type { LabelledLine, LabelledNote, Problem, Timeline } from '../pipeline';
import { layOut, wrapText, type Column } from './columns';
import { rounded } from './names';

/** An object ready to be written. */
type JsonObject = Readonly<Record<string, unknown>>;

/** What of a note is needed to tell its labels; a note of a walked line has it, too. */
export type ToldNote = Pick<LabelledNote, 'bar' | 'beat' | 'degree'>;

export const degreeObject = ({ place, number, semitones, name }: Degree): JsonObject => ({
  place,
  number,
  semitones,
  name,
});

/**
 * `notes` and `target` count the notes of the line; the target is null where nothing follows and the number of notes where
 * a device leads round to the top. `into` is what the target is in its chord.
 */
export const deviceObject = (
  { device, notes, target }: DeviceSpan,
  line: readonly ToldNote[],
): JsonObject => ({
  device,
  name: deviceOf(device).name,
  family: deviceOf(device).family,
  bar: line[notes[0]!]!.bar,
  beat: line[notes[0]!]!.beat,
  notes,
  target,
  into: target === null ? null : (line[target]?.degree.name ?? null),
});

const noteObject = (note: LabelledNote): JsonObject => ({
  bar: note.bar,
  beat: note.beat,
  midi: note.midi,
  name: pitchText(note.pitch),
  chord: note.harmony.chord?.symbol ?? null,
  degree: degreeObject(note.degree),
  device: note.device,
  label: note.label,
});

/** The labels of a line as JSON: every note with its degree and what stands for it, then every device. */
export function devicesToJson(
  line: LabelledLine,
  timeline: Timeline,
  problems: readonly Pick<Problem, 'code' | 'severity' | 'line' | 'column' | 'message'>[],
): string {
  const value = {
    title: timeline.title,
    key: printKey(timeline.key),
    notes: line.notes.map(noteObject),
    devices: line.devices.map((span) => deviceObject(span, line.notes)),
    problems: problems.map(({ code, severity, line: row, column, message }) => ({
      code,
      severity,
      line: row,
      column,
      message,
    })),
  };
  return `${JSON.stringify(value, null, 2)}\n`;
}

const beatText = (beat: number): string => String(rounded(beat, 2));

/** "3-4 double chromatic below → root": beats, name, and what it leads to. */
export function spanText({ device, notes, target }: DeviceSpan, line: readonly ToldNote[]): string {
  const first = beatText(line[notes[0]!]!.beat);
  const last = beatText(line[notes.at(-1)!]!.beat);
  const beats = first === last ? first : `${first}-${last}`;
  const into = target === null ? undefined : (line[target]?.degree.short ?? 'the top');
  return `${beats} ${deviceOf(device).name}${into === undefined ? '' : ` → ${into}`}`;
}

/** What is told of each bar's devices, by the bar they begin in. */
export function spansByBar(
  devices: readonly DeviceSpan[],
  line: readonly ToldNote[],
): ReadonlyMap<number, readonly string[]> {
  const rows = new Map<number, string[]>();
  for (const span of toldSpans(devices)) {
    const { bar } = line[span.notes[0]!]!;
    rows.set(bar, [...(rows.get(bar) ?? []), spanText(span, line)]);
  }
  return rows;
}

const columns: readonly Column[] = [
  { heading: 'Beat', widest: 8, gap: ' ' },
  { heading: 'Note', widest: 5, gap: ' ' },
  { heading: 'Chord', widest: 14, gap: ' ' },
  { heading: 'Degree', widest: 22, gap: ' ' },
  { heading: 'Devices', widest: 42, gap: ', ' },
];

/** The labels of a line as a table, a row for every note. */
export function devicesToText({ notes, devices }: LabelledLine): string {
  const rows = notes.map(({ bar, beat, pitch, harmony, degree, devices: own }) => [
    [`${bar}.${beatText(beat)}`],
    [pitchText(pitch)],
    [harmony.chord?.symbol ?? 'N.C.'],
    [
      degree.place === 'chord'
        ? degree.name
        : `${degree.short}${degree.name === '' ? '' : `, ${degree.name}`}`,
    ],
    own.map(({ device }) => deviceOf(device).name),
  ]);
  const told = [...spansByBar(devices, notes)].flatMap(([bar, texts]) =>
    wrapText(`Bar ${bar}: ${texts.join('; ')}.`, 96),
  );
  return [...layOut(columns, rows), '', ...told, ''].join('\n');
}
