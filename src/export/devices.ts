// Labels and devices of a line as objects and as rows of text.
import { scientificName, printKey, type BarNumber } from '../music';
import {
  baseWords,
  deviceOf,
  toldSpans,
  type ComparedShare,
  type Degree,
  type DeviceCount,
  type DeviceSpan,
} from '../pipeline/5-line';
import type { LabelledLine, LabelledNote, Problem, Timeline } from '../pipeline';
import { inColumns, wrapText, type TextColumn } from './columns';
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
  name: scientificName(note.pitch),
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
): ReadonlyMap<BarNumber, readonly string[]> {
  const rows = new Map<BarNumber, string[]>();
  for (const span of toldSpans(devices)) {
    const { bar } = line[span.notes[0]!]!;
    rows.set(bar, [...(rows.get(bar) ?? []), spanText(span, line)]);
  }
  return rows;
}

const columns: readonly TextColumn[] = [
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
    [scientificName(pitch)],
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
  return [...inColumns(columns, rows), '', ...told, ''].join('\n');
}

/** Of whom a share is, and of what: "24 % by people, of the steps over a bar line". */
const shareText = (value: number | null, of: ComparedShare['of']): string =>
  value === null ? '-' : of.endsWith('a bar') ? value.toFixed(2) : `${Math.round(value * 100)} %`;

const countColumns: readonly TextColumn[] = [
  { heading: 'Device', widest: 30, gap: ' ' },
  { heading: 'Times', widest: 7, gap: ' ' },
  { heading: 'Here', widest: 7, gap: ' ' },
  { heading: 'People', widest: 7, gap: ' ' },
  { heading: 'Of', widest: 40, gap: ' ' },
];

/** How often some takes have each device together, beside how often people play it: a row a figure. */
export function countsToText(counts: readonly DeviceCount[], takes: readonly number[]): string {
  const rows = counts.flatMap(({ device, count, compared }) => {
    const name = deviceOf(device).name;
    if (compared.length === 0) return count === 0 ? [] : [[[name], [String(count)], [''], [''], ['']]];
    return compared.map((share, place) => [
      [place === 0 ? name : ''],
      [place === 0 ? String(count) : ''],
      [shareText(share.own, share.of)],
      [shareText(share.share, share.of)],
      [baseWords(share.of)],
    ]);
  });
  const heading = takes.length === 1 ? `Take ${takes[0]}` : `${takes.length} takes`;
  return [heading, ...inColumns(countColumns, rows), ''].join('\n');
}

/** The same as JSON: every device, with its shares as numbers; `own` is null where there is nothing it could be a share of. */
export const countsToJson = (counts: readonly DeviceCount[], takes: readonly number[]): string =>
  `${JSON.stringify(
    {
      takes,
      devices: counts.map(({ device, count, compared }) => ({
        device,
        name: deviceOf(device).name,
        count,
        compared: compared.map(({ of, share, own, source }) => ({ of, people: share, own, source })),
      })),
    },
    null,
    2,
  )}\n`;
