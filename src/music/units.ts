// Units as branded types: a sounding pitch cannot be passed where a written one is meant, nor ticks for seconds.

declare const unit: unique symbol;
type Branded<Base, Name extends string> = Base & { readonly [unit]: Name };

/** MIDI number as it sounds; the open E string is 28. */
export type SoundingMidi = Branded<number, 'SoundingMidi'>;
/** MIDI number as it is written for the bass, an octave above the sound; the open E string is 40. */
export type WrittenMidi = Branded<number, 'WrittenMidi'>;
/** A distance in equal-tempered semitones. */
export type Semitones = Branded<number, 'Semitones'>;
/** Pitch class, C = 0 to B = 11. */
export type PitchClass = Branded<number, 'PitchClass'>;
/** Musical time; 480 to a quarter note. */
export type Ticks = Branded<number, 'Ticks'>;
/** Clock time in seconds. */
export type Seconds = Branded<number, 'Seconds'>;
/** Quarter notes a minute. */
export type Bpm = Branded<number, 'Bpm'>;
/** Hundredths of an equal-tempered semitone. */
export type Cents = Branded<number, 'Cents'>;
/** A length on the instrument or the hand. */
export type Millimetres = Branded<number, 'Millimetres'>;
/** A cost in thousandths: always an integer, so that every engine adds to the same sum. */
export type Milli = Branded<number, 'Milli'>;

/** A bar of what is played by its index in playing order, from 0, through all choruses. */
export type BarIndex = Branded<number, 'BarIndex'>;
/** The same bar as people count it, in playing order from 1. */
export type BarNumber = Branded<number, 'BarNumber'>;

/** Ticks in a quarter note (the resolution of every musical time in the program). */
export const ticksPerQuarter = 480;
/** The bass is written an octave above its sound. */
export const writtenOctave = 12;
/** Tempo limits of the program, in quarter notes a minute. */
export const tempoRange = { least: 40, most: 320 } as const;

function integer(value: number, least: number, most: number, what: string): number {
  if (!Number.isInteger(value) || value < least || value > most) {
    throw new RangeError(`${what} must be a whole number from ${least} to ${most}, not ${value}`);
  }
  return value;
}

function finite(value: number, least: number, what: string): number {
  if (!Number.isFinite(value) || value < least)
    throw new RangeError(`${what} must be at least ${least}, not ${value}`);
  return value;
}

/** @throws RangeError outside 0..127 */
export const soundingMidi = (value: number): SoundingMidi =>
  integer(value, 0, 127, 'a MIDI number') as SoundingMidi;
/** The pitch as it is written on the bass player's page. */
export const toWritten = (pitch: SoundingMidi): WrittenMidi => (pitch + writtenOctave) as WrittenMidi;
/** The pitch as it sounds. */
export const toSounding = (pitch: WrittenMidi): SoundingMidi => soundingMidi(pitch - writtenOctave);
export const semitones = (value: number): Semitones =>
  integer(value, -127, 127, 'a number of semitones') as Semitones;
/** Pitch class of any MIDI number or semitone count, negative ones included. */
export const pitchClass = (value: number): PitchClass => (((Math.round(value) % 12) + 12) % 12) as PitchClass;
export const ticks = (value: number): Ticks =>
  integer(value, 0, Number.MAX_SAFE_INTEGER, 'a time in ticks') as Ticks;
export const seconds = (value: number): Seconds => finite(value, 0, 'a time in seconds') as Seconds;
export const millimetres = (value: number): Millimetres =>
  finite(value, 0, 'a length in millimetres') as Millimetres;
export const cents = (value: number): Cents => finite(value, -1e6, 'a number of cents') as Cents;
export const milli = (value: number): Milli => Math.round(value) as Milli;

/** @throws RangeError unless a whole number from 0 */
export const barIndex = (value: number): BarIndex =>
  integer(value, 0, Number.MAX_SAFE_INTEGER, 'an index of a bar') as BarIndex;
/**
 * What a person typed may name no bar of the form, nought among it.
 * @throws RangeError unless a whole number from 0
 */
export const barNumber = (value: number): BarNumber =>
  integer(value, 0, Number.MAX_SAFE_INTEGER, 'the number of a bar') as BarNumber;
/** How people count the bar with this index. */
export const numberOfBar = (index: BarIndex): BarNumber => (index + 1) as BarNumber;
/** Where the bar that people count so stands in the timeline. */
export const indexOfBar = (number: BarNumber): BarIndex => (number - 1) as BarIndex;
/** The bar after one. */
export const barAfter = (index: BarIndex): BarIndex => (index + 1) as BarIndex;
/** All bars from one to another, both included; none where the last comes before the first. */
export const barsBetween = (first: BarIndex, last: BarIndex): readonly BarIndex[] =>
  Array.from({ length: Math.max(0, last - first + 1) }, (_, place) => (first + place) as BarIndex);
/** The bars there are, in playing order. */
export const barIndices = (count: number): readonly BarIndex[] =>
  Array.from({ length: count }, (_, index) => index as BarIndex);

/** @throws RangeError outside the program's tempo range */
export function bpm(value: number): Bpm {
  if (!(value >= tempoRange.least && value <= tempoRange.most)) {
    throw new RangeError(`a tempo must be from ${tempoRange.least} to ${tempoRange.most}, not ${value}`);
  }
  return value as Bpm;
}

/** How long a stretch of musical time lasts at a steady tempo. */
export const secondsOf = (time: Ticks, tempo: Bpm): Seconds =>
  seconds((time / ticksPerQuarter) * (60 / tempo));
