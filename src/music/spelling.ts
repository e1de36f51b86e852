// Names for notes in their place: as the chord spells them, as the scale does, or by where the line goes.
import { keyNotes } from './key';
import {
  alterationOf,
  intervalName,
  letterOf,
  nameOfPitchClass,
  noteName,
  pitchClassOf,
  simpleName,
  transpose,
  type NoteName,
} from './tonal';
import type { Chord, Key, Scale } from './types';
import type { PitchClass } from './units';

/** Where a note stands. */
export interface SpellingContext {
  /** Null over N.C. */
  readonly chord: Chord | null;
  readonly scale: Scale | null;
  readonly key: Key;
  /**
   * The note that follows, already spelled, and the way the line goes to it: 1 up, -1 down, 0 neither. Null at the end.
   */
  readonly next?: { readonly name: NoteName; readonly direction: -1 | 0 | 1 } | null;
}

const letters = 'CDEFGAB';
/** Names that puzzle a reader where neither chord, scale nor key asks for them. */
const awkward = new Set(['Cb', 'Fb', 'E#', 'B#']);
/** The chromatic scale of a key as it is usually written: lowered degrees, and the raised fourth. */
const chromatic = ['1P', '2m', '2M', '3m', '3M', '4P', '4A', '5P', '6m', '6M', '7m', '7M'].map(intervalName);

const isPlain = (name: NoteName): boolean => Math.abs(alterationOf(name)) < 2 && !awkward.has(name);

/** The name of a pitch class on a given letter, undefined when that takes two accidentals or reads awkwardly. */
function onLetter(pitchClass: PitchClass, letter: string): NoteName | undefined {
  return ['', '#', 'b']
    .map((sign) => noteName(`${letter}${sign}`))
    .find((name) => pitchClassOf(name) === pitchClass && isPlain(name));
}

/** Semitones from one pitch class to the next note in the way the line goes, 0 to 11. */
const wayTo = (pitchClass: PitchClass, next: NoteName, direction: -1 | 1): number =>
  ((pitchClassOf(next) - pitchClass) * direction + 12) % 12;

/** A step into the next note stands on the letter beside it: D flat falls to C, C sharp rises to D. */
function approachName(pitchClass: PitchClass, next: NoteName, direction: -1 | 1): NoteName | undefined {
  const distance = wayTo(pitchClass, next, direction);
  if (distance !== 1 && distance !== 2) return undefined;
  const letter = letters[(letters.indexOf(letterOf(next)) - direction + 7) % 7]!;
  return onLetter(pitchClass, letter);
}

/** A scale of seven notes has a letter for each; one of six or eight uses some letter twice or not at all, and a name means less. */
const isLettered = ({ notes }: Scale): boolean => notes.length === 7;

/** The name that a key gives to any pitch class. */
function nameInKey(pitchClass: PitchClass, key: Key): NoteName {
  const diatonic = keyNotes(key).find((name) => pitchClassOf(name) === pitchClass);
  if (diatonic !== undefined) return diatonic;
  const name = chromatic
    .map((interval) => transpose(key.tonic, interval))
    .find((candidate) => pitchClassOf(candidate) === pitchClass);
  return name !== undefined && isPlain(name) ? name : nameOfPitchClass(pitchClass, key.fifths > 0);
}

/**
 * Spells a pitch class where it stands in a line. Chord tones are named as the chord spells them and scale tones as the
 * scale does, though never with two accidentals, and in a scale of six or eight notes only where they do not go by semitone into
 * the next note; other notes that move by step into the next one are named from it
 * (rising notes are sharps, falling ones flats, unless that gives Cb, Fb, E#, B# or two accidentals); the rest as the
 * key has them.
 */
export function spellInContext(pitchClass: PitchClass, context: SpellingContext): NoteName {
  const { chord, scale, key, next } = context;
  const tone = chord?.tones.find((candidate) => candidate.pitchClass === pitchClass);
  if (tone) return simpleName(tone.note);
  const step = scale?.notes.find((note) => pitchClassOf(note) === pitchClass);
  const isLeading = next && next.direction !== 0 && wayTo(pitchClass, next.name, next.direction) === 1;
  if (step !== undefined && (isLettered(scale!) || !isLeading)) return simpleName(step);
  if (next && next.direction !== 0) {
    const approach = approachName(pitchClass, next.name, next.direction);
    if (approach !== undefined) return approach;
    if (isLeading) return nameOfPitchClass(pitchClass, next.direction > 0);
  }
  return nameInKey(pitchClass, key);
}
