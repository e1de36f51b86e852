// Which notes need an accidental: one holds for its line and octave up to the bar line; a tie carries it over.
import { alterationOf, letterOf, type Key, type SpelledPitch } from '../music';

const sharpOrder = 'FCGDAEB';

/** Sharps (positive) or flats that the key signature gives a letter. */
export function signatureAlteration(key: Key, letter: string): number {
  const place = sharpOrder.indexOf(letter);
  if (key.fifths > place) return 1;
  return -key.fifths > 6 - place ? -1 : 0;
}

/** The MusicXML name of an alteration from -2 to 2. */
export const accidentalName = (alteration: number): string =>
  ['flat-flat', 'flat', 'natural', 'sharp', 'double-sharp'][alteration + 2]!;

/**
 * Accidentals of one bar; call it once a written note, in order.
 * @returns the alteration to print, null when none is needed
 */
export function barAccidentals(key: Key): (pitch: SpelledPitch, isTiedInto: boolean) => number | null {
  const inForce = new Map<string, number>();
  return (pitch, isTiedInto) => {
    if (isTiedInto) return null;
    const letter = letterOf(pitch.name);
    const line = `${letter}${pitch.octave}`;
    const alteration = alterationOf(pitch.name);
    if ((inForce.get(line) ?? signatureAlteration(key, letter)) === alteration) return null;
    inForce.set(line, alteration);
    return alteration;
  };
}
