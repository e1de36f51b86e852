// Which notes need an accidental: one holds for its line and octave up to the bar line; a tie carries it over.
import { alterationOf, letterOf, type SpelledPitch } from '../tonal';

const sharpOrder = 'FCGDAEB';

/** Letters that a signature alters, in the order they stand in it; sharps positive. */
export const signatureLetters = (fifths: number): readonly string[] =>
  fifths >= 0 ? [...sharpOrder.slice(0, fifths)] : [...sharpOrder].reverse().slice(0, -fifths);

/** What a signature does to a letter: 1 sharp, -1 flat, 0 nothing. */
export const signatureAlteration = (fifths: number, letter: string): number =>
  signatureLetters(fifths).includes(letter) ? Math.sign(fifths) : 0;

/** Why a note has no accidental: it is tied into, one of this bar still holds, or the signature says the same. */
export type Unsigned = 'tied' | 'held' | 'signature';

/**
 * Accidentals of one bar; call it once a written note, in order.
 * @returns the alteration to print, or why there is none
 */
export function barAccidentals(
  fifths: number,
): (pitch: SpelledPitch, isTiedInto: boolean) => number | Unsigned {
  const altered = signatureLetters(fifths);
  const inForce = new Map<string, number>();
  return (pitch, isTiedInto) => {
    if (isTiedInto) return 'tied';
    const letter = letterOf(pitch.name);
    const line = `${letter}${pitch.octave}`;
    const alteration = alterationOf(pitch.name);
    const stated = inForce.get(line);
    inForce.set(line, alteration);
    const usual = altered.includes(letter) ? Math.sign(fifths) : 0;
    if ((stated ?? usual) !== alteration) return alteration;
    return stated === undefined ? 'signature' : 'held';
  };
}
