// Many marks as few shapes: a page of single characters is slow to draw, one text with a place for each is not.
import type { BarLayout, NoteLayout, NoteMarks, PlacedGlyph, SystemLayout } from './model';

/** Characters with a place each, as the attributes of one SVG text. */
export interface TextRun {
  readonly text: string;
  readonly x: string;
  readonly y: string;
}

/** The heads, signs, stems and ledger lines of several notes. */
export interface Ink {
  readonly glyphs: TextRun;
  readonly stems: string;
  readonly ledgers: string;
  readonly fingers: TextRun;
}

const n = (value: number): string => String(Math.round(value * 100) / 100);

/** One text out of single characters. */
export const textRun = (glyphs: readonly PlacedGlyph[]): TextRun => ({
  text: glyphs.map(({ text }) => text).join(''),
  x: glyphs.map(({ x }) => n(x)).join(' '),
  y: glyphs.map(({ y }) => n(y)).join(' '),
});

/** What is drawn for these notes; heads tied over from the system before have no finger. */
export function inkOf(notes: readonly NoteLayout[], tied: readonly NoteMarks[] = []): Ink {
  const marks: readonly NoteMarks[] = [...tied, ...notes];
  return {
    glyphs: textRun(marks.flatMap(({ glyphs }) => glyphs)),
    stems: marks.map(({ stems }) => stems ?? '').join(''),
    ledgers: marks.map(({ ledgers }) => ledgers ?? '').join(''),
    fingers: textRun(notes.map(({ finger }) => finger)),
  };
}

/** Clef, signatures, meters, rests and the figures of triplets of a system. */
export const signsOf = ({ head, tuplets, bars }: SystemLayout): TextRun =>
  textRun([...head, ...tuplets, ...bars.flatMap((bar: BarLayout) => bar.glyphs)]);
