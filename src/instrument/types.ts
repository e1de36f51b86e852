// The bass, the hand on it, and the ways a note can be held.
import type { Millimetres, Semitones, SoundingMidi } from '../music';

declare const brand: unique symbol;
/** Strings are numbered from the highest: 1 is the G string of a bass tuned E A D G. */
export type StringNumber = number & { readonly [brand]: 'StringNumber' };
/** Where the hand is: semitones from the open string to the stop under the first finger. */
export type HandPosition = number & { readonly [brand]: 'HandPosition' };

export const fingers = ['0', '1', '2', '3', '4', 'T'] as const;
/** 0 is the open string, T the thumb as a playing finger. */
export type Finger = (typeof fingers)[number];

export const frames = ['open', 'closed', 'extended', 'thumb'] as const;
/** How the hand is shaped: a whole tone from first to last finger, a minor third, or with the thumb on the string. */
export type Frame = (typeof frames)[number];

export const regions = ['low', 'middle', 'neck block', 'octave'] as const;
export type Region = (typeof regions)[number];

export interface BassString {
  readonly number: StringNumber;
  /** I for the highest. */
  readonly numeral: string;
  /** Sounding pitch of the open string. */
  readonly open: SoundingMidi;
  /** Letter name of the open string: "G". */
  readonly name: string;
}

export interface Instrument {
  readonly id: string;
  readonly name: string;
  /** Vibrating length of the strings. */
  readonly length: Millimetres;
  /** Highest string first. */
  readonly strings: readonly BassString[];
  /** First-finger semitone at the heel of the neck: 7 for a D neck, 8 for an E flat neck. */
  readonly heel: Semitones;
  /** The highest stop walking lines use. */
  readonly highestStop: Semitones;
}

export interface Hand {
  /** Index to little finger, flat on a table. */
  readonly span: Millimetres;
}

/** One way to hold one pitch. */
export interface Placement {
  /** Place in the table of all placements of this instrument and hand. */
  readonly id: number;
  readonly string: StringNumber;
  readonly stop: Semitones;
  readonly finger: Finger;
  /** For an open string: where the hand is when the note ends. */
  readonly position: HandPosition;
  readonly frame: Frame;
  readonly midi: SoundingMidi;
}
