// Where a pitch stands on the staff and which sign it needs. Pitches come in the sounding octave; the page is an octave up.
import { alterationOf, barAccidentals, letterOf, type NoteName, type SpelledPitch } from '../music';

const letters = 'CDEFGAB';
/** The bottom line of the bass staff is G2. */
const bottomLine = 2 * 7 + letters.indexOf('G');
/** The double bass is written an octave above its sound. */
const writtenOctaves = 1;

/** Steps above the bottom line of the bass staff: 0 on the line, 1 in the space above, 8 on the top line. */
export const staffStep = (sounding: SpelledPitch): number =>
  (sounding.octave + writtenOctaves) * 7 + letters.indexOf(letterOf(sounding.name)) - bottomLine;

/** Steps of the ledger lines a note needs, nearest the staff first. */
export function ledgerSteps(step: number): readonly number[] {
  const lines: number[] = [];
  for (let line = -2; line >= step; line -= 2) lines.push(line);
  for (let line = 10; line <= step; line += 2) lines.push(line);
  return lines;
}

// Places of the signs in a bass-clef signature (music theory primers), in the order of fifths.
const sharpSteps = [6, 3, 7, 4, 1, 5, 2];
const flatSteps = [2, 5, 1, 4, 0, 3, -1];

/** Steps of the signs of a signature, left to right; sharps positive. */
export const signatureSteps = (fifths: number): readonly number[] =>
  fifths >= 0 ? sharpSteps.slice(0, fifths) : flatSteps.slice(0, -fifths);

/** A sign before a note: -2..2 semitones; a courtesy sign stands in brackets. */
export interface Sign {
  readonly alteration: number;
  readonly courtesy: boolean;
}

/** What the accidental rules need to know of a bar. */
export interface SignBar {
  readonly fifths: number;
  /** In order; a note tied over from before takes no sign and sets none. */
  readonly notes: readonly {
    readonly pitch: SpelledPitch;
    readonly tiedFrom: boolean;
    /** A dead note has no pitch to speak of: it takes no sign and sets none. */
    readonly isDead?: boolean;
  }[];
}

interface Heard {
  readonly bar: number;
  readonly alteration: number;
}

/**
 * The sign of every note, bar by bar. A courtesy sign reminds when the letter was last heard otherwise, in this bar at
 * another octave or in the bar before.
 */
export function decideSigns(bars: readonly SignBar[]): readonly (readonly (Sign | null)[])[] {
  const lastHeard = new Map<string, Heard>();
  return bars.map((bar, index) => {
    const accidental = barAccidentals(bar.fifths);
    return bar.notes.map(({ pitch, tiedFrom, isDead = false }) => {
      if (isDead) return null;
      const letter = letterOf(pitch.name);
      const alteration = alterationOf(pitch.name);
      const heard = lastHeard.get(letter);
      lastHeard.set(letter, { bar: index, alteration });
      const needed = accidental(pitch, tiedFrom);
      if (typeof needed === 'number') return { alteration, courtesy: false };
      const recent = heard !== undefined && heard.bar >= index - 1 && heard.alteration !== alteration;
      return recent && needed === 'signature' ? { alteration, courtesy: true } : null;
    });
  });
}

const signGlyphs: Readonly<Record<number, string>> = {
  [-2]: 'accidentalDoubleFlat',
  [-1]: 'accidentalFlat',
  0: 'accidentalNatural',
  1: 'accidentalSharp',
  2: 'accidentalDoubleSharp',
};

/** Names of the glyphs that draw a sign, left to right. */
export function signGlyphNames(sign: Sign): readonly string[] {
  const name = signGlyphs[sign.alteration] ?? 'accidentalNatural';
  return sign.courtesy ? ['accidentalParensLeft', name, 'accidentalParensRight'] : [name];
}

/** A note name as it is set: "B♭", "F♯". */
export const typesetName = (name: NoteName): string =>
  name.replace('##', '𝄪').replace('bb', '𝄫').replace('#', '♯').replace('b', '♭');
