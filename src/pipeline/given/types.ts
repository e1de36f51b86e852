// A line that is given: its notes stand, only the hand is sought.
import type { Bpm, Key, Meter, Milli, NoteName, SoundingMidi, Ticks } from '../../music';
import type { Hand, Instrument } from '../../instrument';
import type { Problem } from '../1-chart';
import type { Timeline } from '../2-timeline';
import type { Limits, Pin } from '../3-candidates';
import type { Line } from '../5-line';
import type { Impossible } from '../types';

/** One note of a given line. Notes follow each other and do not overlap; silence between them is a rest. */
export interface GivenNote {
  readonly midi: SoundingMidi;
  readonly tick: Ticks;
  readonly ticks: Ticks;
  /** As it was written; named by the key when left out. */
  readonly name?: NoteName;
}

export const fingeringAims = ['open', 'usual'] as const;
/**
 * "usual": as it is taught first, in the lowest position that holds the notes, up the top string last. "open": as the
 * lines of this program are fingered, over the whole neck, open strings moving the hand.
 */
export type FingeringAim = (typeof fingeringAims)[number];

export interface GivenRequest {
  readonly instrument: Instrument;
  readonly hand: Hand;
  readonly tempo: Bpm;
  readonly limits: Limits;
  readonly way: FingeringAim;
  /** By bar and beat, as everywhere; none when left out. */
  readonly pins?: readonly Pin[];
  /** C major when left out; it names notes that have no name. */
  readonly key?: Key;
  /** 4/4 when left out. */
  readonly meter?: Meter;
  readonly title?: string;
  /** Bars and slots that the notes stand in, one slot a note; made of the notes when left out. */
  readonly timeline?: Timeline;
  /** Weighs stretches, shifts and places against each other as they stand (1), or not at all (0). */
  readonly comfort?: number;
}

export interface GivenResult {
  /** What is wrong with the notes; `column` counts notes from 1 where the notes were not text. */
  readonly problems: readonly Problem[];
  /** Bars without chords, for the staff; null when there is no note. */
  readonly timeline: Timeline | null;
  readonly line: Line | null;
  /** Why there is no line though the notes are in order. */
  readonly impossible: Impossible | null;
  /** How much more the line costs than the least under the prices it was asked with; left out where none were laid. */
  readonly overLeast?: Milli;
}
