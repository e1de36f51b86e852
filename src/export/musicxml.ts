// A line as MusicXML 4.0, partwise: written pitch in a plain F clef, an octave above the sound.
import { barAccidentals, flagsOf, sameKey, numberOfBar } from '../music';
import { feelText, isSameMeter } from '../pipeline/1-chart';
import { deviceOf, toldSpans, type Line } from '../pipeline/5-line';
import type { Timeline } from '../pipeline/2-timeline';
import { beamsOf } from './beams';
import { writtenBars, type WrittenBar, type WrittenNote } from './line-bars';
import {
  above,
  barStyle,
  bassClef,
  bracketStart,
  bracketStop,
  divisions,
  keyElement,
  metronomeType,
  octaveTranspose,
  rehearsalDirection,
  scoreDocument,
  soundElement,
  timeElement,
  wordsType,
} from './musicxml-common';
import { harmonyWriter, type HarmonyWriter } from './musicxml-harmony';
import { noteElement, type OtherWay } from './musicxml-note';
import { positionMarks, type PositionNamer } from './position-marks';
import { swingElement, usualSwing, type SwingRatio } from './swing-mark';
import { tag, tagWith, type XmlElement } from './xml';

export interface MusicXmlOptions extends PositionNamer {
  /** The timeline's own title when left out. */
  readonly title?: string;
  /**
   * What <sound> tells player programs, 1 for straight; what bands play at the tempo when left out. The page shows even
   * eighths either way.
   */
  readonly swing?: SwingRatio;
  /** Approaches and devices are told above the staff: words over one note, a bracket with words over several. */
  readonly withDevices?: boolean;
  /** The same notes held otherwise; each finger or string that differs stands behind the first as an alternative. */
  readonly otherFingers?: Line | null;
}

function attributesElement({ bar }: WrittenBar, before: WrittenBar | undefined): XmlElement[] {
  const key = before && sameKey(before.bar.key, bar.key) ? [] : [keyElement(bar.key)];
  const time = before && isSameMeter(before.bar.meter, bar.meter) ? [] : [timeElement(bar.meter)];
  if (before === undefined) {
    return [
      tag('attributes', tag('divisions', String(divisions)), ...key, ...time, bassClef, octaveTranspose),
    ];
  }
  return key.length + time.length === 0 ? [] : [tag('attributes', ...key, ...time)];
}

function openingDirections(timeline: Timeline, swing: SwingRatio): XmlElement[] {
  return [
    above(
      wordsType(feelText(timeline.feel)),
      metronomeType(timeline.tempo),
      soundElement(timeline.tempo, swingElement(swing)),
    ),
  ];
}

/** Chords that fall within a piece, each with its distance from the piece's start. */
function harmoniesAt(
  { chords, bar }: WrittenBar,
  { piece }: WrittenNote,
  harmony: HarmonyWriter,
): XmlElement[] {
  return chords
    .map((chord) => ({ chord, place: chord.tick - bar.tick }))
    .filter(({ place }) => place >= piece.start && place < piece.end)
    .map(({ chord, place }) => harmony(chord.chord, place - piece.start));
}

function positionDirection(name: string): XmlElement {
  return tagWith('direction', { placement: 'below' }, wordsType(name));
}

/** What stands before and after the notes of devices, by index of the note. */
interface DeviceMarks {
  readonly before: ReadonlyMap<number, XmlElement>;
  readonly after: ReadonlyMap<number, XmlElement>;
}

function deviceMarks(line: Line): DeviceMarks {
  const before = new Map<number, XmlElement>();
  const after = new Map<number, XmlElement>();
  for (const { device, notes } of toldSpans(line.devices)) {
    const { name } = deviceOf(device);
    before.set(notes[0]!, notes.length === 1 ? above(wordsType(name)) : bracketStart(name));
    if (notes.length > 1) after.set(notes.at(-1)!, bracketStop);
  }
  return { before, after };
}

const noMarks: DeviceMarks = { before: new Map(), after: new Map() };

/** What stands at notes beside themselves, by index of the note. */
interface NoteMarks {
  readonly positions: ReadonlyMap<number, string>;
  readonly devices: DeviceMarks;
  readonly otherWays: ReadonlyMap<number, OtherWay>;
}

/** Another way to hold the same notes, where it differs. */
const waysBeside = (line: Line, other: Line | null): ReadonlyMap<number, OtherWay> =>
  new Map(
    (other?.notes.length === line.notes.length ? other.notes : []).flatMap(({ placement }, index) => {
      const { finger, string } = line.notes[index]!.placement;
      if (placement.finger === finger && placement.string === string) return [];
      const way: OtherWay = {
        finger: placement.finger,
        string: placement.string === string ? null : placement.string,
      };
      return [[index, way] as const];
    }),
  );

const listOf = (element: XmlElement | undefined): XmlElement[] => (element === undefined ? [] : [element]);

function notesElements(
  written: WrittenBar,
  { positions, devices, otherWays }: NoteMarks,
  harmony: HarmonyWriter,
): XmlElement[] {
  const { bar, notes, grid } = written;
  const accidentals = barAccidentals(bar.key.fifths);
  const beams = beamsOf(
    notes.map(({ piece: { start, end, value }, note }) => ({
      start,
      end,
      flags: note === null ? 0 : flagsOf(value),
    })),
    grid,
  );
  return notes.flatMap((one, index) => {
    const { note, piece, tiedInto, tiedOn } = one;
    const mark = note === null || tiedInto ? undefined : positions.get(note.index);
    const accidental = note === null ? null : accidentals(note.pitch, tiedInto);
    const context = {
      accidental: typeof accidental === 'number' ? accidental : null,
      beams: beams[index]!,
      isBarRest: note === null && piece.end - piece.start === bar.ticks,
      otherWay: note === null ? null : (otherWays.get(note.index) ?? null),
    };
    return [
      ...harmoniesAt(written, one, harmony),
      ...(mark === undefined ? [] : [positionDirection(mark)]),
      ...listOf(note === null || tiedInto ? undefined : devices.before.get(note.index)),
      noteElement(one, context),
      ...listOf(note === null || tiedOn ? undefined : devices.after.get(note.index)),
    ];
  });
}

function rightBarline(index: number, bars: readonly WrittenBar[]): XmlElement[] {
  const next = bars[index + 1];
  if (next !== undefined && !next.opensPart) return [];
  return [
    tagWith('barline', { location: 'right' }, barStyle(next === undefined ? 'light-heavy' : 'light-light')),
  ];
}

/**
 * The line as a MusicXML document. Notes are written as even note values (swing is a mark), tied over bar lines and split
 * where the beats must show; fingering, string, open string and thumb stand in <technical>; position numerals below the
 * staff where the hand takes a new position; chord symbols, section labels and double bars as on a lead sheet.
 * Source: W3C MusicXML 4.0.
 */
export function toMusicXml(timeline: Timeline, line: Line, options: MusicXmlOptions): string {
  const bars = writtenBars(timeline, line);
  const positions = positionMarks(line, options);
  const devices = options.withDevices === true ? deviceMarks(line) : noMarks;
  const marks = { positions, devices, otherWays: waysBeside(line, options.otherFingers ?? null) };
  const swing = options.swing ?? usualSwing(timeline.feel, timeline.tempo);
  const harmony = harmonyWriter();
  const measures = bars.map((written, index) => {
    const { bar } = written;
    const isShort = bar.ticks < written.fullTicks;
    return tagWith(
      'measure',
      { number: String(numberOfBar(bar.index)), ...(isShort ? { implicit: 'yes' } : {}) },
      ...attributesElement(written, bars[index - 1]),
      ...(written.section === null ? [] : [rehearsalDirection(written.section)]),
      ...(index === 0 ? openingDirections(timeline, swing) : []),
      ...notesElements(written, marks, harmony),
      ...rightBarline(index, bars),
    );
  });
  return scoreDocument(options.title ?? timeline.title, 'Bass', measures);
}
