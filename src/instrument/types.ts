// The bass, the hand on it, and the ways a note can be held.
import type { Millimetres, Semitones, SoundingMidi } from '../music';

declare const brand: unique symbol;
/** Strings are numbered from the highest: 1 is the G string of a bass tuned E A D G. */
export type StringNumber = number & { readonly [brand]: 'StringNumber' };
/**
 * Where the hand is: semitones from the open string to the stop under the first finger, from 1. Below 1 the hand is off
 * the board, at a stop of the extension.
 */
export type HandPosition = number & { readonly [brand]: 'HandPosition' };

export const fingers = ['0', '1', '2', '3', '4', 'T'] as const;
/** 0 is the open string, T the thumb as a playing finger. */
export type Finger = (typeof fingers)[number];

export const frames = ['open', 'closed', 'extended', 'thumb'] as const;
/** How the hand is shaped: a whole tone from first to last finger, a minor third, or with the thumb on the string. */
export type Frame = (typeof frames)[number];

export const regions = ['low', 'middle', 'neck block', 'octave'] as const;
/** A stretch of the board. */
export type Region = (typeof regions)[number];

export const armZones = [
  'off the board',
  'behind the neck',
  'over the shoulder',
  'thumb on the string',
] as const;
/** How the arm reaches the strings. */
export type ArmZone = (typeof armZones)[number];

export interface BassString {
  readonly number: StringNumber;
  /** I for the highest. */
  readonly numeral: string;
  /** Sounding pitch of the open string. */
  readonly open: SoundingMidi;
  /** Letter name of the open string: "G". */
  readonly name: string;
}

/** A string that goes on above the nut, over the scroll. */
export interface Extension {
  readonly string: StringNumber;
  /** Sounding pitch of the whole length; the notes from here up to the open string are stopped off the board. */
  readonly lowest: SoundingMidi;
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
  readonly extension?: Extension;
  /** An electric bass: no thumb position, the same frames all the way up. */
  readonly fretted?: boolean;
}

export const wayIds = ['1-2-4', '1-2-4 stretched', '1-2-3-4', '3 for 4', 'thumb', '1-3-4'] as const;
export type WayId = (typeof wayIds)[number];

/** A way of fingering, with the position from which it changes where it has one. */
export interface FingeringWay {
  readonly id: WayId;
  /** The way's own when left out. */
  readonly from?: HandPosition;
}

/** How fast and how exactly a hand moves; what a player may calibrate. */
export interface Mover {
  /** Seconds before a movement of no distance is over. */
  readonly intercept: number;
  /** Seconds a bit. */
  readonly slope: number;
  /** How far off a stop may be and still be in tune, cents either way. */
  readonly tolerance: number;
  /** Share of the note that a bare shift may take. */
  readonly bareShare: number;
  /** The player has found all three times for this hand; left out, they are assumed and told in relative words only. */
  readonly isCalibrated?: boolean;
}

export interface Hand {
  /** Index to little finger, flat on a table. */
  readonly span: Millimetres;
  /** 1-2-4 with stretches where the span allows, when left out. */
  readonly way?: FingeringWay;
  /** The assumed one when left out. */
  readonly mover?: Mover;
}

/** How far the thumb is from the hand's position after a pivot, in semitones: it stayed where it was when the hand turned. */
export type ThumbOff = -1 | 1;

/** One way to hold one pitch. */
export interface Placement {
  /** Place in the table of all placements of this instrument and hand. */
  readonly id: number;
  readonly string: StringNumber;
  /** Negative on an extension. */
  readonly stop: Semitones;
  readonly finger: Finger;
  /** For an open string: where the hand is when the note ends. */
  readonly position: HandPosition;
  readonly frame: Frame;
  readonly midi: SoundingMidi;
  /** Where a pivot has left the thumb: a semitone below the hand's position or above it. Left out where it is under the hand. */
  readonly thumb?: ThumbOff;
}
