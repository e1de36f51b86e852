// A note as a player asks for it: which string, where it is stopped, how hard it is plucked and with which touch.
import type { ToneKind } from './figures';

export const touches = ['plucked', 'raked', 'pulled', 'hammered'] as const;
/**
 * plucked: by the right hand. raked: the finger falls on from the string above. pulled: by the left hand, from a stop above.
 * hammered: a finger comes down on a string that sounds.
 */
export type Touch = (typeof touches)[number];

export interface SoundingString {
  readonly kind: ToneKind;
  /** Sounding MIDI number of the open string. */
  readonly open: number;
  /** Vibrating length of the open string, mm. */
  readonly lengthMm: number;
}

export interface StringStroke extends SoundingString {
  /** Semitones above the open string, 0 for the open one; below 0 on an extension, which lengthens the string. */
  readonly stop: number;
  /** 0 to 1. */
  readonly loudness: number;
  /** The same seed gives the same sound; another one another stroke on the same note. */
  readonly seed: number;
  readonly touch: Touch;
}

/** The part of a string that sounds, mm. */
export const speakingLength = ({ lengthMm }: SoundingString, stop: number): number =>
  lengthMm * 2 ** (-stop / 12);
