// The only file that knows the note-arithmetic library. Names are ASCII: "Bb", "F#", "Cbb"; intervals "3m", "5P", "9A".
import { Interval, Note } from 'tonal';
import { pitchClass, soundingMidi, type PitchClass, type SoundingMidi } from './units';

declare const spelled: unique symbol;
/** A spelled note without octave, letter first: "Bb", "F#". */
export type NoteName = string & { readonly [spelled]: 'NoteName' };
/** A spelled interval, number then quality: "3m" minor third, "5P" perfect fifth, "11A" sharp eleven. */
export type IntervalName = string & { readonly [spelled]: 'IntervalName' };

/** A spelled pitch; the octave is that of the sound (scientific: C4 = MIDI 60). */
export interface SpelledPitch {
  readonly name: NoteName;
  readonly octave: number;
}

const notePattern = /^[A-G](#{0,2}|b{0,2})$/;

/** Undefined when the text is not a note name with at most two accidentals. */
export const parseNoteName = (text: string): NoteName | undefined =>
  notePattern.test(text) ? (text as NoteName) : undefined;

/** @throws RangeError when the text is not a note name */
export function noteName(text: string): NoteName {
  const name = parseNoteName(text);
  if (name === undefined) throw new RangeError(`not a note name: ${text}`);
  return name;
}

/** @throws RangeError when the text is not an interval */
export function intervalName(text: string): IntervalName {
  if (Interval.get(text).empty) throw new RangeError(`not an interval: ${text}`);
  return Interval.get(text).name as IntervalName;
}

export const letterOf = (name: NoteName): string => name[0]!;
/** Sharps positive, flats negative. */
export const alterationOf = (name: NoteName): number =>
  name.includes('#') ? name.length - 1 : 1 - name.length;
/** Read from the library once: a line asks for thousands. */
const pitchClasses: ReadonlyMap<string, PitchClass> = new Map(
  [...'CDEFGAB'].flatMap((letter) =>
    ['', '#', '##', 'b', 'bb'].map((sign) => [letter + sign, pitchClass(Note.get(letter + sign).chroma)]),
  ),
);
export const pitchClassOf = (name: NoteName): PitchClass => pitchClasses.get(name)!;
/** Size of an interval in semitones: "9M" is 14. */
export const semitonesOf = (interval: IntervalName): number => Interval.get(interval).semitones;
/** The number of an interval: "9M" is 9. */
export const degreeOf = (interval: IntervalName): number => Interval.get(interval).num;

/**
 * The note an interval above (or, with a minus sign before it, below) another, spelled by letter. Three accidentals and
 * more, which no page of music shows, are respelled with fewer.
 */
export function transpose(name: NoteName, interval: IntervalName): NoteName {
  const result = Note.transpose(name, interval);
  return parseNoteName(result) ?? noteName(Note.simplify(result));
}

/**
 * The ascending interval from one note name to another, within an octave: Bb to D is "3M". Names too far apart on the
 * line of fifths for any interval, such as B## and Fbb, are measured by their plain names.
 */
export function intervalBetween(from: NoteName, to: NoteName): IntervalName {
  const distance = Interval.distance(from, to);
  const isExact = !distance.startsWith('-') && Note.transpose(from, distance) === to;
  return intervalName(isExact ? distance : Interval.distance(plainNoteName(from), plainNoteName(to)));
}

/** Gives a pitch the octave that makes the spelled name sound at that MIDI number (B# and Cb cross the octave). */
export function spellPitch(pitch: SoundingMidi, name: NoteName): SpelledPitch {
  const natural = pitch - alterationOf(name);
  return { name, octave: Math.floor(natural / 12) - 1 };
}

/** The MIDI number of a spelled pitch. */
export const midiOf = (pitch: SpelledPitch): SoundingMidi =>
  soundingMidi(
    (pitch.octave + 1) * 12 + pitchClassOf(letterOf(pitch.name) as NoteName) + alterationOf(pitch.name),
  );

/** Scientific name: "Bb1". */
export const scientificName = (pitch: SpelledPitch): string => `${pitch.name}${pitch.octave}`;

const sharpNames = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'].map(noteName);
const flatNames = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'].map(noteName);

/** The plainest name of a pitch class: a natural, else a sharp or a flat as asked. */
export const nameOfPitchClass = (value: PitchClass, prefersSharp: boolean): NoteName =>
  (prefersSharp ? sharpNames : flatNames)[value]!;

/** A pitch without a chord or key to spell it by: naturals, else flats. */
export const plainPitch = (midi: SoundingMidi): SpelledPitch =>
  spellPitch(midi, nameOfPitchClass(pitchClass(midi), false));

/** The plainest name of the same note: B for Cb, G for Abb; sharps stay sharps. */
export const plainNoteName = (name: NoteName): NoteName =>
  nameOfPitchClass(pitchClassOf(name), alterationOf(name) > 0);

/** The name itself when it has at most one accidental, else the plainest name of the same note. */
export const simpleName = (name: NoteName): NoteName =>
  Math.abs(alterationOf(name)) < 2 ? name : plainNoteName(name);
