// The marks of one note: head, sign, dot, flag, stem and ledger lines.
import { stepY, type StaffPlace } from './bars';
import { engraving, glyph } from './glyphs';
import type { NoteMarks, PlacedGlyph } from './model';
import { ledgerSteps, signGlyphNames } from './pitches';
import { signWidth } from './spacing';
import { headGlyph, type PlacedHead, type Stem } from './stems';

/** A head with its stem. */
export interface StemmedHead {
  readonly head: PlacedHead;
  readonly stem: Stem | null;
  readonly flagged: boolean;
}

const n = (value: number): string => value.toFixed(2);

function signGlyphs(head: PlacedHead, space: number): readonly PlacedGlyph[] {
  if (head.sign === null) return [];
  const half = (headGlyph(head).advance / 2) * space;
  let x = head.x - half - signWidth(head.sign, space);
  return signGlyphNames(head.sign).map((name) => {
    const { text, advance } = glyph(name);
    const placed = { text, x, y: head.y };
    x += advance * space;
    return placed;
  });
}

function dotGlyphs(head: PlacedHead, staff: StaffPlace): readonly PlacedGlyph[] {
  if (head.piece.dots === 0) return [];
  // In a space, never on a line.
  const step = head.step % 2 === 0 ? head.step + 1 : head.step;
  const x = head.x + (headGlyph(head).advance / 2 + 0.35) * staff.space;
  return [{ text: glyph('augmentationDot').text, x, y: stepY(step, staff) }];
}

function flagGlyphs({ head, stem, flagged }: StemmedHead, space: number): readonly PlacedGlyph[] {
  if (!flagged || stem === null) return [];
  const name = `flag${head.piece.value === 16 ? '16th' : '8th'}${stem.up ? 'Up' : 'Down'}`;
  return [{ text: glyph(name).text, x: stem.x - (engraving.stem / 2) * space, y: stem.to }];
}

/** What is drawn for a note with one head or several tied ones. */
export function marksOf(heads: readonly StemmedHead[], staff: StaffPlace): NoteMarks {
  const { space } = staff;
  const glyphs = heads.flatMap((one): readonly PlacedGlyph[] => {
    const { text, advance } = headGlyph(one.head);
    return [
      { text, x: one.head.x - (advance / 2) * space, y: one.head.y },
      ...signGlyphs(one.head, space),
      ...dotGlyphs(one.head, staff),
      ...flagGlyphs(one, space),
    ];
  });
  const stems = heads.flatMap(({ stem }) =>
    stem === null ? [] : [`M${n(stem.x)} ${n(stem.from)}V${n(stem.to)}`],
  );
  const ledgers = heads.flatMap(({ head }) => {
    const half = (headGlyph(head).advance / 2 + engraving.ledgerExtension) * space;
    return ledgerSteps(head.step).map(
      (step) => `M${n(head.x - half)} ${n(stepY(step, staff))}H${n(head.x + half)}`,
    );
  });
  const path = (parts: readonly string[]): string | null => (parts.length === 0 ? null : parts.join(''));
  return { glyphs, stems: path(stems), ledgers: path(ledgers) };
}
