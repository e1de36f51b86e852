// The music glyphs we draw and how wide our letters are: sizes from data, so that the layout needs no screen.
import table from '../../shared/notation/music-font.json' with { type: 'json' };

/** A SMuFL glyph; sizes in staff spaces from its origin, up positive. */
export interface Glyph {
  readonly name: string;
  /** The character that draws it in the music font. */
  readonly text: string;
  readonly advance: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

const glyphs: ReadonlyMap<string, Glyph> = new Map(
  table.glyphs.map((row) => [
    row.name,
    {
      name: row.name,
      text: String.fromCodePoint(Number.parseInt(row.code, 16)),
      advance: row.advance,
      left: row.left,
      right: row.right,
      top: row.top,
      bottom: row.bottom,
    },
  ]),
);

/** @throws RangeError for a name that the music font does not have */
export function glyph(name: string): Glyph {
  const found = glyphs.get(name);
  if (found === undefined) throw new RangeError(`no music glyph is named ${name}`);
  return found;
}

export type Face = 'serif' | 'sans';

const widths: Readonly<Record<Face, ReadonlyMap<string, number>>> = {
  serif: new Map(Object.entries(table.serif)),
  sans: new Map(Object.entries(table.sans)),
};
/** For characters outside the table: as wide as the widest capital, so that a guess never makes things collide. */
const widest = 0.9;

/** Width of a text in pixels at a font size in pixels. */
export function textWidth(text: string, size: number, face: Face): number {
  let em = 0;
  for (const character of text) em += widths[face].get(character) ?? widest;
  return em * size;
}

/** Thicknesses and lengths in staff spaces: the engraving defaults published in the font's metadata (Bravura 1.392). */
export const engraving = {
  staffLine: 0.13,
  stem: 0.12,
  beam: 0.5,
  beamGap: 0.25,
  ledgerLine: 0.16,
  ledgerExtension: 0.4,
  thinBar: 0.16,
  thickBar: 0.5,
  barGap: 0.4,
  /** Where a stem meets the head, above or below the middle of the head. */
  stemAttach: 0.168,
  /** An octave from the head: the usual length. */
  stemLength: 3.5,
  /** A beamed stem is never shorter. */
  leastStem: 2.75,
} as const;
