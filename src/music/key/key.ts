// Keys: at most seven accidentals, whatever is asked for.
import { plainText } from '../chord';
import {
  alterationOf,
  intervalBetween,
  intervalName,
  letterOf,
  noteName,
  pitchClassOf,
  transpose,
} from '../tonal';
import type { IntervalName, NoteName } from '../tonal';
import { churchModes, type ChurchMode, type Key, type Mode } from '../types';
import { semitones, type Semitones } from '../units';

/** Natural notes in rising fifths; C has no accidentals. */
const fifthsOrder = 'FCGDAEB';
/** The signature of a minor key is that of the major key three fifths lower. */
const minorFifths = 3;

/** The third over a mode's tonic, and how many fifths under the major key on it the signature lies. */
const churches: Readonly<Record<ChurchMode, { readonly mode: Mode; readonly under: number }>> = {
  lydian: { mode: 'major', under: -1 },
  mixolydian: { mode: 'major', under: 1 },
  dorian: { mode: 'minor', under: 2 },
  phrygian: { mode: 'minor', under: 4 },
  locrian: { mode: 'minor', under: 5 },
};

const fifthsUnder = (mode: Mode, church?: ChurchMode): number =>
  church === undefined ? (mode === 'minor' ? minorFifths : 0) : churches[church].under;

/** Place on the line of fifths: C 0, G 1, F -1, F# 6, Gb -6. */
export const fifthsOf = (name: NoteName): number =>
  fifthsOrder.indexOf(letterOf(name)) - 1 + 7 * alterationOf(name);

/** The note at a place on the line of fifths, -15 (Fbb) to 19 (B##). */
export function noteAtFifths(fifths: number): NoteName {
  const place = fifths + 1;
  const alter = Math.floor(place / 7);
  return noteName(`${fifthsOrder[place - 7 * alter]!}${alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter)}`);
}

/**
 * The key on a tonic. A tonic whose signature would have more than seven accidentals is respelled: G# major is A flat
 * major, D flat minor is C sharp minor. A church mode decides the third by itself.
 */
export function makeKey(tonic: NoteName, mode: Mode, church?: ChurchMode): Key {
  const under = fifthsUnder(mode, church);
  let fifths = fifthsOf(tonic) - under;
  while (fifths > 7) fifths -= 12;
  while (fifths < -7) fifths += 12;
  const name = noteAtFifths(fifths + under);
  return church === undefined
    ? { tonic: name, mode, fifths }
    : { tonic: name, mode: churches[church].mode, fifths, church };
}

/** The key, of that mode, that has a signature of so many fifths. */
export const keyOfFifths = (fifths: number, mode: Mode, church?: ChurchMode): Key =>
  makeKey(noteAtFifths(fifths + fifthsUnder(mode, church)), mode, church);

/** The church mode of a word such as "dor", "Dorian"; undefined for any other. */
export const churchModeOf = (word: string): ChurchMode | undefined =>
  word.length < 3 ? undefined : churchModes.find((name) => name.startsWith(word.toLowerCase()));

const keyPattern =
  /^(?:key +of +)?([a-g])(##?|bb?|n| *-?(?:flat|sharp)\b)? *-? *(major|maj|ma|dur|minor|min|mi|moll|m|ionian|aeolian|dor[a-z]*|phr[a-z]*|lyd[a-z]*|mix[a-z]*|loc[a-z]*)?\.?$/i;

/**
 * Reads "Bb", "F minor", "Fm", "f# minor", "E♭ major", "C-", "D dorian". The case of the tonic says nothing about the mode.
 * Undefined when the text is not a key.
 */
export function parseKey(text: string): Key | undefined {
  if (text.length > 40) return undefined;
  const plain = plainText(text).text.trim();
  const match = keyPattern.exec(plain);
  if (!match) return undefined;
  const [, letter, sign = '', mode = ''] = match;
  const word = sign.replace(/[ -]/g, '').toLowerCase();
  const accidental = word === 'flat' ? 'b' : word === 'sharp' ? '#' : word === 'n' ? '' : word;
  const church = churchModeOf(mode);
  if (church === undefined && /^(?:dor|phr|lyd|mix|loc)/i.test(mode)) return undefined;
  const isMinor = mode === 'm' || /^(?:mi|moll|aeolian)/i.test(mode) || (mode === '' && plain.endsWith('-'));
  return makeKey(noteName(`${letter!.toUpperCase()}${accidental}`), isMinor ? 'minor' : 'major', church);
}

/** "Bb major", "F# minor", "D dorian"; `parseKey` reads it back. */
export const printKey = (key: Key): string => `${key.tonic} ${key.church ?? key.mode}`;

export const sameKey = (a: Key, b: Key): boolean =>
  a.tonic === b.tonic && a.mode === b.mode && a.church === b.church;

const modeIntervals: Readonly<Record<Mode | ChurchMode, readonly IntervalName[]>> = {
  dorian: ['1P', '2M', '3m', '4P', '5P', '6M', '7m'].map(intervalName),
  phrygian: ['1P', '2m', '3m', '4P', '5P', '6m', '7m'].map(intervalName),
  lydian: ['1P', '2M', '3M', '4A', '5P', '6M', '7M'].map(intervalName),
  mixolydian: ['1P', '2M', '3M', '4P', '5P', '6M', '7m'].map(intervalName),
  locrian: ['1P', '2m', '3m', '4P', '5d', '6m', '7m'].map(intervalName),
  major: ['1P', '2M', '3M', '4P', '5P', '6M', '7M'].map(intervalName),
  minor: ['1P', '2M', '3m', '4P', '5P', '6m', '7m'].map(intervalName),
};

/** The seven notes of the signature, from the tonic up; minor keys in their natural form. */
export const keyNotes = (key: Key): readonly NoteName[] =>
  modeIntervals[key.church ?? key.mode].map((interval) => transpose(key.tonic, interval));

/** Six flats (G flat major, E flat minor) rather than six sharps: bass players read more flats. */
const fewestFifths = -6;

/** The keys that players read, one for each pitch class, in rising fifths. */
export const practicalKeys = (mode: Mode): readonly Key[] =>
  Array.from({ length: 12 }, (_, index) =>
    makeKey(noteAtFifths(fewestFifths + index + (mode === 'minor' ? minorFifths : 0)), mode),
  );

/** How a chart moves from one key to another. */
export interface Transposition {
  /** Rising interval by which notes are spelled anew. */
  readonly interval: IntervalName;
  /** The same by the shortest way, -5 to 6. */
  readonly semitones: Semitones;
  /** The key of arrival. */
  readonly to: Key;
}

/** So many semitones, whole octaves aside, the nearer way: five down to six up. */
export const nearerWay = (distance: number): Semitones => semitones(((((distance + 5) % 12) + 12) % 12) - 5);

/** The way from one key to another, tonic to tonic. */
export const transpositionTo = (from: Key, to: Key): Transposition => ({
  interval: intervalBetween(from.tonic, to.tonic),
  semitones: nearerWay(pitchClassOf(to.tonic) - pitchClassOf(from.tonic)),
  to,
});

/** The key an interval higher, respelled to at most seven accidentals. */
export const transposeKey = (key: Key, interval: IntervalName): Key =>
  makeKey(transpose(key.tonic, interval), key.mode, key.church);
