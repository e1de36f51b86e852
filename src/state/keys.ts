// The keys a player can ask for, and the signature each one has.
import { fifthsOf as placeOf, modes, noteName, type Key, type Mode, type NoteName } from '../music';

const minorShift = 3;

/** Sharps (positive) or flats (negative) of a key, without bound: G# major is 8. */
export const signatureOf = (tonic: NoteName, mode: Mode): number =>
  placeOf(tonic) - (mode === 'minor' ? minorShift : 0);

const tonicNames = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'] as const;
const minorNames = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'G#', 'A', 'Bb', 'B'] as const;

/** The keys offered for a mode: every tonic, with both spellings where both are usual. */
export const keysOf = (mode: Mode): readonly Key[] =>
  (mode === 'major' ? tonicNames : minorNames).map((name) => {
    const tonic = noteName(name);
    return { tonic, mode, fifths: signatureOf(tonic, mode) };
  });

/** "Bb major", as controls name a key. */
export const keyId = (key: Key): string => `${key.tonic} ${key.mode}`;

/** The key with that id among those offered; undefined when there is none. */
export const findKey = (id: string): Key | undefined =>
  modes.flatMap((mode) => keysOf(mode)).find((key) => keyId(key) === id);
