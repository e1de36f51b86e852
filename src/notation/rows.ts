// The rows of text about the hand: finger, string, position and what each note is for.
import type { HandPosition } from '../instrument';
import type { LineNote } from '../pipeline/5-line';
import { textWidth } from './glyphs';
import type { CarryMark, NoteLayout, PositionBracket, RoleText } from './model';

/** A note with its place on the axis. */
export interface AxisNote {
  readonly note: LineNote;
  readonly index: number;
  readonly x: number;
  readonly column: NoteLayout['column'];
}

export const isOpen = (note: LineNote): boolean => note.placement.finger === '0';

/** An open string during which the hand goes somewhere else. */
export const carries = (note: LineNote): boolean => note.carry !== null && note.carry.from !== note.carry.to;

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
    if (run === undefined || isCarried || run.position !== position) runs.push({ position, notes: [one] });
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

/** Arrows under open strings that carry the hand, each to just before the next note or the end of the line. */
export function carryMarks(notes: readonly AxisNote[], y: number, endX: number): readonly CarryMark[] {
  return notes.flatMap(({ note, index, x }, place) => {
    if (!carries(note) || note.carry === null) return [];
    const next = notes[place + 1]?.x ?? endX;
    const x2 = Math.max(x + 10, Math.min(next - 12, x + 64));
    return [{ note: index, from: note.carry.from, to: note.carry.to, x1: x - 5, x2, y }];
  });
}

/** The string numeral is set where the string changes, and on the first note of a system. */
export function showsString(notes: readonly AxisNote[], place: number): boolean {
  const before = notes[place - 1];
  return before === undefined || before.note.placement.string !== notes[place]!.note.placement.string;
}

/** Cuts a role into two lines of about the same length. */
function halves(text: string): readonly string[] {
  const words = text.split(' ');
  if (words.length === 1) return [text];
  const cuts = words
    .slice(1)
    .map((_, index) => [words.slice(0, index + 1).join(' '), words.slice(index + 1).join(' ')]);
  const longest = (lines: readonly string[]): number => Math.max(...lines.map((line) => line.length));
  return cuts.reduce((best, lines) => (longest(lines) < longest(best) ? lines : best));
}

export interface RoleRow {
  readonly roles: readonly RoleText[];
  readonly height: number;
}

/** What each note is for in words, centred under their notes; one that would run into its neighbour stands a level lower. */
export function roleRow(notes: readonly AxisNote[], y: number, size: number): RoleRow {
  const gap = 5;
  const lineHeight = size * 1.1;
  const width = (text: string): number => textWidth(text, size, 'sans');
  const texts = notes.map(({ note, column }) => {
    const { label } = note;
    return width(label) + gap <= column.width ? [label] : halves(label);
  });
  const levelHeight = lineHeight * Math.max(1, ...texts.map((lines) => lines.length));
  const ends = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const roles = notes.map(({ x }, place) => {
    const lines = texts[place]!;
    const half = Math.max(...lines.map(width)) / 2;
    const level = ends[0]! + gap <= x - half || ends[0]! <= ends[1]! ? 0 : 1;
    ends[level] = x + half;
    return { x, lines, y: y + level * levelHeight };
  });
  const levels = ends[1] === Number.NEGATIVE_INFINITY ? 1 : 2;
  return { roles, height: notes.length === 0 ? 0 : levelHeight * levels };
}
