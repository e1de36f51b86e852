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
import type { Key, Mode } from '../types';
import { semitones, type Semitones } from '../units';

/** Natural notes in rising fifths; C has no accidentals. */
const fifthsOrder = 'FCGDAEB';
/** The signature of a minor key is that of the major key three fifths lower. */
const minorFifths = 3;

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
 * major, D flat minor is C sharp minor.
 */
export function makeKey(tonic: NoteName, mode: Mode): Key {
  let fifths = fifthsOf(tonic) - (mode === 'minor' ? minorFifths : 0);
  while (fifths > 7) fifths -= 12;
  while (fifths < -7) fifths += 12;
  return { tonic: noteAtFifths(fifths + (mode === 'minor' ? minorFifths : 0)), mode, fifths };
}

const keyPattern =
  /^(?:key +of +)?([a-g])(##?|bb?|n| *-?(?:flat|sharp)\b)? *-? *(major|maj|ma|dur|minor|min|mi|moll|m)?\.?$/i;

/**
 * Reads "Bb", "F minor", "Fm", "f# minor", "E♭ major", "C-". The case of the tonic says nothing about the mode.
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
  const isMinor = mode === 'm' || /^mi|^moll/i.test(mode) || (mode === '' && plain.endsWith('-'));
  return makeKey(noteName(`${letter!.toUpperCase()}${accidental}`), isMinor ? 'minor' : 'major');
}

/** "Bb major", "F# minor"; `parseKey` reads it back. */
export const printKey = (key: Key): string => `${key.tonic} ${key.mode}`;

export const sameKey = (a: Key, b: Key): boolean => a.tonic === b.tonic && a.mode === b.mode;

const modeIntervals: Readonly<Record<Mode, readonly IntervalName[]>> = {
  major: ['1P', '2M', '3M', '4P', '5P', '6M', '7M'].map(intervalName),
  minor: ['1P', '2M', '3m', '4P', '5P', '6m', '7m'].map(intervalName),
};

/** The seven notes of the signature, from the tonic up; minor keys in their natural form. */
export const keyNotes = (key: Key): readonly NoteName[] =>
  modeIntervals[key.mode].map((interval) => transpose(key.tonic, interval));

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

/** The way from one key to another, tonic to tonic. */
export function transpositionTo(from: Key, to: Key): Transposition {
  const rise = (pitchClassOf(to.tonic) - pitchClassOf(from.tonic) + 12) % 12;
  return {
    interval: intervalBetween(from.tonic, to.tonic),
    semitones: semitones(rise > 6 ? rise - 12 : rise),
    to,
  };
}

/** The key an interval higher, respelled to at most seven accidentals. */
export const transposeKey = (key: Key, interval: IntervalName): Key =>
  makeKey(transpose(key.tonic, interval), key.mode);
