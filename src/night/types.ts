// A night as it is planned: tunes in sets, wishes for the whole of it, and what comes out.
import type { Bpm, Key, SoundingMidi, SpelledPitch } from '../music';
import type { ArmZone, HandPosition, Placement, Region } from '../instrument';
import type { Impossible, Problem, WalkRequest } from '../pipeline';

/** One tune of a set, as it is played tonight. */
export interface NightTune {
  readonly title: string;
  /** All choruses of it; how its take is drawn matters only for the spread. */
  readonly request: WalkRequest;
  /** The part of the tune's time that is walked, from 0 to 1; the rest of it the hand is not planned for. */
  readonly walked: number;
}

/** A wish for the whole night. */
export type NightWish =
  /** Minutes that stopped notes of a region may take, or shall take at least. */
  | { readonly kind: 'most' | 'least'; readonly region: Region; readonly minutes: number }
  /** Seconds that the hand may stay in any one region in one go. */
  | { readonly kind: 'stay'; readonly seconds: number };

export interface NightRequest {
  readonly sets: readonly (readonly NightTune[])[];
  readonly wishes: readonly NightWish[];
  /** Takes to draw of each tune, for how far lines as people play them are from the plan; 0 for none. */
  readonly takes: number;
}

/** A stretch of stopped notes in one region. */
export interface Stay {
  readonly region: Region;
  /** From the start of the tune. */
  readonly from: number;
  readonly seconds: number;
}

/** Where the hand is over a stretch of time: shares of it by position, the rest open or at rest. */
export type InkColumn = readonly { readonly position: HandPosition; readonly share: number }[];

/** The hand over a tune, in columns of so many seconds each. */
export interface HandInk {
  readonly seconds: number;
  readonly columns: readonly InkColumn[];
}

export type Minutes = Readonly<Record<Region, number>>;

/** What a tune, a set or a night comes to. All parts of the time add up to `length`. */
export interface Measure {
  /** Minutes in all. */
  readonly length: number;
  /** Minutes of stopped notes. */
  readonly byRegion: Minutes;
  /** Minutes of open strings. */
  readonly open: number;
  /** Minutes in which the line itself rests. */
  readonly rests: number;
  /** Minutes that are not walked. */
  readonly apart: number;
  /** Minutes of stopped notes by how the arm reaches them. */
  readonly byArm: Readonly<Record<ArmZone, number>>;
  readonly notes: number;
  readonly bareShifts: number;
  readonly crossings: number;
  /** Metres along the strings. */
  readonly travel: number;
  readonly longestStay: Stay | null;
}

/** What a wish changed in a tune, by note of one chorus. */
export interface Differing {
  /** Other notes than without any wish. */
  readonly notes: number;
  /** The same notes, held elsewhere. */
  readonly places: number;
}

/** Mean and range over takes, in minutes. */
export interface Spread {
  readonly mean: Minutes;
  readonly least: Minutes;
  readonly most: Minutes;
}

export interface FirstNote {
  readonly pitch: SpelledPitch;
  readonly midi: SoundingMidi;
  readonly placement: Placement;
  /** Letter of its string. */
  readonly string: string;
}

/** A tune with its best line under the night's prices. */
export interface TunePlan {
  readonly title: string;
  readonly key: Key | null;
  readonly tempo: Bpm | null;
  readonly choruses: number;
  readonly measure: Measure;
  readonly first: FirstNote | null;
  readonly ink: HandInk;
  readonly differing: Differing;
  readonly spread: Spread | null;
  /** Seconds of the stay that the line ends with and begins with, for what joins in the next tune. */
  readonly ends: { readonly first: Stay | null; readonly last: Stay | null };
  readonly problems: readonly Problem[];
  /** Why there is no line; null where there is one, and where nothing in the chart can be played. */
  readonly impossible: Impossible | null;
}

/** What came of a wish. */
export interface WishPlan {
  readonly wish: NightWish;
  readonly holds: boolean;
  /** Minutes, or seconds of the longest stay, in the plan. */
  readonly reached: number;
  /** Minutes, or seconds, without any wish. */
  readonly before: number;
  /** Where it does not hold by itself: the nearest to it that was found, minutes; null where that was not asked. */
  readonly nearest: number | null;
  /** Cost units that a minute bears; null where the wish bears no price. */
  readonly price: number | null;
}

/** One step of raising the price of a wish. */
export interface PriceStep {
  readonly wish: number;
  readonly price: number;
  readonly minutes: number;
}

export interface NightPlan {
  readonly sets: readonly (readonly TunePlan[])[];
  readonly bySet: readonly Measure[];
  readonly whole: Measure;
  readonly wishes: readonly WishPlan[];
  /** Cost of the plan, of the night without wishes, and how far the plan can be from the best night, in cost units. */
  readonly cost: number;
  readonly costBefore: number;
  readonly gap: number;
  /** Every price that was tried. */
  readonly steps: readonly PriceStep[];
}

/** Told how much is done, from 0 to 1. */
export type WatchNight = (done: number) => void;
