// The rows of text about the hand: finger, string, position and what each note is for.
import { isOpenString, type HandPosition } from '../instrument';
import { carriedRun, deviceOf, toldSpans, type DeviceSpan, type LineNote } from '../pipeline/5-line';
import { textWidth } from './glyphs';
import type { CarryMark, DeviceBracket, NoteLayout, PositionBracket, RoleText } from './model';

/** A note with its place on the axis. */
export interface AxisNote {
  readonly note: LineNote;
  readonly index: number;
  readonly x: number;
  readonly column: NoteLayout['column'];
}

/** An open string during which the hand goes somewhere else. */
export const carries = (note: LineNote): boolean => note.carry !== null;

/**
 * Brackets over runs of notes in one hand position. An open string during which the hand stays belongs to the run; one
 * that carries the hand ends it. Every system begins with its numeral.
 */
export function positionBrackets(
  notes: readonly AxisNote[],
  y: number,
  size: number,
  numeral: (position: HandPosition) => string,
): readonly PositionBracket[] {
  const runs: { position: HandPosition; notes: AxisNote[] }[] = [];
  let isCarried = true;
  for (const one of notes) {
    const { position } = one.note.placement;
    if (carries(one.note)) {
      isCarried = true;
      continue;
    }
    const run = runs.at(-1);
    const goesOn =
      run !== undefined && !isCarried && (isOpenString(one.note.placement) || run.position === position);
    if (!goesOn) runs.push({ position, notes: [one] });
    else run.notes.push(one);
    isCarried = false;
  }
  return runs.map(({ position, notes: covered }) => {
    const text = numeral(position);
    const width = textWidth(text, size, 'sans');
    const first = covered[0]!;
    const last = covered.at(-1)!;
    const x = first.x - Math.min(width, 14) / 2;
    const from = x + width + 4;
    return {
      position,
      numeral: { text, x, y },
      lineFrom: covered.length > 1 && last.x > from ? from : null,
      lineTo: last.x,
      y: y - size * 0.34,
    };
  });
}

/**
 * Arrows under open strings that carry the hand, each from the first of those that do so together to just before the next note
 * or the end of the line.
 */
export function carryMarks(notes: readonly AxisNote[], y: number, endX: number): readonly CarryMark[] {
  const told = notes.map(({ note }) => note);
  return notes.flatMap(({ note, index, x }, place) => {
    if (note.carry === null) return [];
    const { first, last } = carriedRun(told, place);
    if (place > first) return [];
    const end = notes[last]!.x;
    const next = notes[last + 1]?.x ?? endX;
    const x2 = Math.max(end + 10, Math.min(next - 12, end + 64));
    return [{ note: index, from: note.carry.from, to: note.carry.to, x1: x - 5, x2, y }];
  });
}

/** The string's name is set where the string changes, and on the first note of a system. */
export function showsString(notes: readonly AxisNote[], place: number): boolean {
  const before = notes[place - 1];
  return before === undefined || before.note.placement.string !== notes[place]!.note.placement.string;
}

/** A role in lines as short as its words allow, as few of them as fit a width. */
function wrapped(text: string, fits: (line: string) => boolean): readonly string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const last = lines.at(-1);
    if (last !== undefined && fits(`${last} ${word}`)) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

/** A text that wants to stand about `x`, in two lines where it is wider than the room. */
interface Centred {
  readonly x: number;
  readonly text: string;
  readonly room: number;
}

interface TextRow {
  readonly texts: readonly RoleText[];
  readonly height: number;
}

/** Texts about their places, none of them over `endX`; one that would run into its neighbour stands a level lower. */
function textRow(wanted: readonly Centred[], y: number, size: number, endX = Infinity): TextRow {
  const gap = 5;
  const lineHeight = size * 1.1;
  const width = (text: string): number => textWidth(text, size, 'sans');
  const broken = wanted.map(({ text, room }) => wrapped(text, (line) => width(line) + gap <= room));
  // All on one level where no word is wider than its room.
  const isLevel = wanted.every(({ x }, place) => {
    const next = wanted[place + 1];
    const half = (at: number): number => Math.max(...broken[at]!.map(width)) / 2;
    return next === undefined || x + half(place) + 2 <= next.x - half(place + 1);
  });
  const levelHeight = lineHeight * Math.max(1, ...broken.map((lines) => lines.length));
  const ends = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const texts = wanted.map((one, place) => {
    const lines = broken[place]!;
    const half = Math.max(...lines.map(width)) / 2;
    const x = Math.min(one.x, endX - half);
    const level = isLevel || ends[0]! + gap <= x - half || ends[0]! <= ends[1]! ? 0 : 1;
    ends[level] = x + half;
    return { x, lines, y: y + level * levelHeight };
  });
  const levels = ends[1] === Number.NEGATIVE_INFINITY ? 1 : 2;
  return { texts, height: wanted.length === 0 ? 0 : levelHeight * levels };
}

export interface RoleRow {
  readonly roles: readonly RoleText[];
  readonly height: number;
}

/** What each note is for in words, centred under it. */
export function roleRow(notes: readonly AxisNote[], y: number, size: number): RoleRow {
  const wanted = notes.map(({ note, x, column }) => ({ x, text: note.label, room: column.width }));
  const { texts, height } = textRow(wanted, y, size);
  return { roles: texts, height };
}

export interface BracketRow {
  readonly devices: readonly DeviceBracket[];
  readonly height: number;
}

/**
 * Brackets of the approaches and devices of a line as far as they lie in a system, their names under them.
 *
 * @param y of the brackets; the names stand below
 */
export function deviceRow(
  spans: readonly DeviceSpan[],
  notes: readonly AxisNote[],
  y: number,
  size: number,
  endX: number,
): BracketRow {
  const byIndex = new Map(notes.map((one) => [one.index, one]));
  const shown = toldSpans(spans).flatMap((span) => {
    const own = span.notes.flatMap((index) => byIndex.get(index) ?? []);
    const target = span.target === null ? undefined : byIndex.get(span.target);
    const first = own[0] ?? target;
    if (first === undefined || (own.length === 0 && target === undefined)) return [];
    const opens = own[0]?.index === span.notes[0];
    const x1 = opens ? first.x - 4 : (notes[0]?.x ?? first.x) - 14;
    // A form that goes round, or a line that goes on, leads over the edge.
    const x2 = target ? target.x - 3 : Math.min(endX - 2, (own.at(-1) ?? first).x + 26);
    return [{ span, x1, x2, opens, arrives: target !== undefined }];
  });
  const named = shown.filter(({ opens }) => opens);
  const { texts, height } = textRow(
    named.map(({ span, x1, x2 }) => ({
      x: (x1 + x2) / 2,
      text: deviceOf(span.device).name,
      room: x2 - x1,
    })),
    y + size + 2,
    size,
    endX,
  );
  const devices = shown.map((one): DeviceBracket => {
    const { x1, x2, opens, arrives } = one;
    const place = named.indexOf(one);
    return { x1, x2, y, opens, arrives, name: place < 0 ? null : texts[place]! };
  });
  return { devices, height: height === 0 ? 0 : height + 6 };
}
