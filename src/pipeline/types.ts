// What goes into the computation and what comes out.
import type { BarNumber, Bpm, Key, Milli, Semitones, SoundingMidi } from '../music';
import type { Finger, Hand, HandPosition, Instrument, StringNumber } from '../instrument';
import type { Limits, Pin, Wish } from './3-candidates';
import type { Chart, Feel, Problem } from './1-chart';
import type { EndingWish, KeptMoment, LineWishes, Timeline } from './2-timeline';
import type { Line } from './5-line';
import type { OwnLine } from './given/own-types';

/** How a take is drawn: temperature 0 is the best line there is, 1 varies as people do. */
export interface TakeWish {
  readonly seed: number;
  readonly temperature: number;
  /** The least cost of all, though a bar may then repeat another; for whoever compares costs. */
  readonly mayRepeat?: true;
  /** How often bars were drawn anew since; none when left out. */
  readonly redraws?: number;
}

/** A note of a line that was shown, as it was held. */
export interface KeptNote extends KeptMoment {
  readonly midi: SoundingMidi;
  readonly string: StringNumber;
  readonly stop: number;
  readonly finger: Finger;
  readonly position: HandPosition;
}

/** A bar of a line that was shown. */
export interface KeptBar {
  /** In playing order, from 1. */
  readonly bar: BarNumber;
  /**
   * Locked: stays whatever else changes, and a wish like any other where it cannot. Free: to be drawn anew, to come out
   * otherwise than here. Left out: stays as long as it fits.
   */
  readonly hold?: 'locked' | 'free';
  /** What the bar was made for (see `barMark`); left out, it was made for this very chart. */
  readonly mark?: string;
  readonly notes: readonly KeptNote[];
}

/** What became of the kept notes. */
export interface Keeping {
  /** Bars of the timeline that are locked, in playing order from 1. */
  readonly locked: readonly BarNumber[];
  /** How many locked bars found no place in the chart. */
  readonly lostLocks: number;
  /** How many kept notes of bars that should have stayed do not stand in the line. */
  readonly lostNotes: number;
}

export interface WalkRequest {
  /** Chart text as typed. */
  readonly chartText: string;
  /** A chart that was read already, from a file of another kind; the text is then left alone. */
  readonly chart?: Chart;
  /** The key to play in; null for the chart's own. */
  readonly key: Key | null;
  /** Null for the chart's own. */
  readonly tempo: Bpm | null;
  readonly choruses: number;
  readonly instrument: Instrument;
  readonly hand: Hand;
  readonly limits: Limits;
  readonly take: TakeWish;
  /** What must hold at single beats; none when left out. */
  readonly pins?: readonly Pin[];
  /** Weighs the hand against the music: 1 as fitted, 0 anything that can be held. */
  readonly comfort?: number;
  /** Null, or left out, for the chart's own feel. */
  readonly feel?: Feel | null;
  /** Skips, drops, triplets, anticipations, fills: 0, or left out, for the feel's own, 1 for the most. The take's seed places them. */
  readonly density?: number;
  /** What the player wishes of the line beyond its rules; nothing when left out. */
  readonly wishes?: LineWishes;
  /** How the last chorus ends; left out, it leads back to the top. */
  readonly ending?: EndingWish;
  /** Notes that were shown. Where they fit they stay, to the fingering; the rest is drawn given them. */
  readonly kept?: readonly KeptBar[];
  /** A line of the player's own: it stands as it is, only the hand is sought. */
  readonly own?: OwnLine;
}

/** Why there is no line, in words, with what would help. */
export interface Impossible {
  readonly message: string;
  /** Barred positions any one of which, allowed again, makes a line possible. */
  readonly freeing: readonly HandPosition[];
  /** The smallest set of wishes that cannot hold together. */
  readonly conflict: readonly WishInConflict[];
  /** The one of them whose loss costs the line least; null when giving up one is not enough. */
  readonly cheapest: WishInConflict | null;
  /** Where giving up one is not enough, as others clash elsewhere: a small set of wishes without which there is a line. */
  readonly together: readonly WishInConflict[];
}

/** A wish as the conflict names it. */
export type WishInConflict = Pick<Wish, 'words' | 'source'>;

export interface WalkResult {
  /** As written, in the key asked for. */
  readonly chart: Chart;
  readonly problems: readonly Problem[];
  /** Null when nothing in the chart can be played. */
  readonly timeline: Timeline | null;
  readonly line: Line | null;
  readonly impossible: Impossible | null;
  /** Only where something was kept. */
  readonly keeping?: Keeping;
  /**
   * Only where regions bear prices: how much more the line costs, prices in, than the least of all lines under the same
   * masks and prices. Nought but where largest shares of the beats keep the line from the least.
   */
  readonly overLeast?: Milli;
  /** A line of the player's own, whose file has fingers: the same notes as the other of the two would hold them. */
  readonly otherFingers?: Line | null;
  /** Semitones that a line of the player's own sounds above what was written: the chart may be in another key. */
  readonly ownShift?: Semitones;
  /** Milliseconds by pass, for the bench. */
  readonly timings: Readonly<Record<string, number>>;
}
