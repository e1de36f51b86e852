// What the player wants held: pins at a beat, and limits on the hand. All of them are masks over the placements of a slot.
import { pitchClass, pitchClassOf, numberOfBar, type BarNumber, type SoundingMidi } from '../../music';
import {
  isOpenString,
  liesIn,
  reachOf,
  regionOf,
  regions,
  spanShare,
  spanShares,
  type Finger,
  type Hand,
  type HandPosition,
  type Instrument,
  type LivingPlace,
  type Placement,
  type Region,
  type StringNumber,
} from '../../instrument';
import type { Slot } from '../2-timeline';

/** A wish that must hold at one beat: this note, this place, this string, this finger, this part in the chord. */
export interface Pin {
  /** Bar in playing order, from 1. */
  readonly bar: BarNumber;
  readonly beat: number;
  readonly midi?: SoundingMidi;
  /** Any octave of a note. */
  readonly pitchClass?: number;
  readonly string?: StringNumber;
  readonly stop?: number;
  readonly finger?: Finger;
  readonly position?: HandPosition;
  /** "root here": the bass of the chord; "open here": an open string; "stopped here": no open string. */
  readonly role?: 'root' | 'open' | 'stopped';
}

export const stayPlaces = [...regions, 'any'] as const;
/** A region, or any one of them. */
export type StayPlace = (typeof stayPlaces)[number];

/** Consecutive stopped beats that the hand may spend in one region. */
export interface StayLimit {
  readonly region: StayPlace;
  readonly beats: number;
  /** Held in these bars, from 0, of a form of so many and nowhere else; in all when left out. */
  readonly during?: { readonly bars: readonly number[]; readonly of: number };
}

/** Whether a placement is in the region of a limit: open strings are nowhere. */
export const isCounted = (
  placement: Pick<Placement, 'finger' | 'position'>,
  { region }: Pick<StayLimit, 'region'>,
): boolean => !isOpenString(placement) && (region === 'any' || regionOf(placement.position) === region);

/** The wish about the longest stay, in words. */
export const stayWords = ({ region, beats }: StayLimit): string =>
  `no more than ${beats} beats in a row in ${region === 'any' ? 'any one region' : `the ${region} region`}`;

/** The largest share of all beats that stopped notes of a region may have. */
export interface ShareLimit {
  readonly region: Region;
  readonly share: number;
}

/**
 * What the hand bears for a beat: on a stopped note in the region, or (outside) on every other note. It steers where the
 * line lies and is no part of what the line costs.
 */
export interface RegionPrice {
  readonly region: Region;
  readonly side: 'inside' | 'outside';
  /** Cost units a beat, from 0. */
  readonly perBeat: number;
}

export const hardestNames = ['gentle', 'least'] as const;
/**
 * `gentle`: no shift needs more than its time, and where the notes force one to, it needs as little more as can be.
 * `least`: the hardest shift is as easy as that of any line there is; often the hand then hardly moves at all.
 */
export type HardestWord = (typeof hardestNames)[number];

/** What the hand must not do. */
export interface Limits {
  readonly barredPositions: readonly HandPosition[];
  readonly barredStrings?: readonly StringNumber[];
  readonly lowest?: SoundingMidi;
  readonly highest?: SoundingMidi;
  readonly highestStop?: number;
  /** No hold that takes more than the relaxed part of the span. */
  readonly relaxedOnly?: boolean;
  readonly stay?: StayLimit;
  readonly shares?: readonly ShareLimit[];
  /** The least share of the stopped time in each region up to the neck block; 0 for none. */
  readonly spread?: number;
  readonly prices?: readonly RegionPrice[];
  /** Where stopped notes may lie; all of the neck when left out. */
  readonly place?: LivingPlace;
  /** The hardest shift allowed, as movement time over the time there is for it, or one of the words for it. */
  readonly hardest?: number | HardestWord;
}

/** One wish by itself, so that a conflict can name it and a search can leave it out. */
export interface Wish {
  /** In words: "half barred", "bar 3, beat 1: E♭ on string D". */
  readonly words: string;
  readonly source:
    | { readonly kind: 'pin'; readonly pin: Pin }
    | {
        readonly kind: 'limit';
        readonly limit: LimitName;
        readonly position?: HandPosition;
        /** The kept bar's number where it was kept; it may have moved along with its chart since. */
        readonly bar?: BarNumber;
      };
  /** Limits, those of kept bars and layers excepted, look at the placement alone. */
  readonly allows: (placement: Placement, slot: Slot) => boolean;
  /** Pitches that must be on offer at a slot whatever the harmony says. */
  readonly offers?: (slot: Slot) => readonly SoundingMidi[] | undefined;
}

export const limitNames = [
  'barred position',
  'barred string',
  'lowest note',
  'highest note',
  'highest stop',
  'relaxed only',
  'stay',
  'share',
  'place',
  'hardest move',
  'kept bar',
  'layer',
] as const;
export type LimitName = (typeof limitNames)[number];

/** The wish about the hardest move, in words. */
export function hardestWords(hardest: NonNullable<Limits['hardest']>): string {
  if (hardest === 'least') return 'no move harder than it has to be';
  if (hardest === 'gentle') return 'no hard move';
  return `no move that takes more than ${Math.round(hardest * 100)} % of its time`;
}

/** True when a pin is about this slot. */
export const isPinnedAt = (pin: Pin, slot: Slot): boolean =>
  pin.bar === numberOfBar(slot.bar) && Math.abs(pin.beat - slot.beat) < 1e-6;

function hasRole(role: Pin['role'], placement: Placement, slot: Slot): boolean {
  if (role === undefined) return true;
  if (role === 'open') return isOpenString(placement);
  if (role === 'stopped') return !isOpenString(placement);
  const { chord } = slot.harmony;
  return chord !== null && pitchClass(placement.midi) === pitchClassOf(chord.bass ?? chord.root);
}

/** True when a placement is what a pin asks for. */
export const fitsPin = (pin: Pin, placement: Placement, slot: Slot): boolean =>
  (pin.midi === undefined || placement.midi === pin.midi) &&
  (pin.pitchClass === undefined || pitchClass(placement.midi) === pin.pitchClass) &&
  (pin.string === undefined || placement.string === pin.string) &&
  (pin.stop === undefined || placement.stop === pin.stop) &&
  (pin.finger === undefined || placement.finger === pin.finger) &&
  (pin.position === undefined || placement.position === pin.position) &&
  hasRole(pin.role, placement, slot);

/** What the words of wishes need to know. */
export interface WishWords {
  positionName(position: HandPosition): string;
  pitchName(midi: SoundingMidi): string;
  stringName(string: StringNumber): string;
}

function pinWords(pin: Pin, words: WishWords): string {
  const parts: string[] = [];
  if (pin.role === 'root') parts.push('the root');
  if (pin.role === 'open') parts.push('an open string');
  if (pin.role === 'stopped') parts.push('no open string');
  if (pin.midi !== undefined) parts.push(words.pitchName(pin.midi));
  else if (pin.pitchClass !== undefined)
    parts.push(words.pitchName((pin.pitchClass + 36) as SoundingMidi).replace(/-?\d+$/, ''));
  if (pin.finger !== undefined) parts.push(pin.finger === '0' ? 'open' : `finger ${pin.finger}`);
  if (pin.string !== undefined) parts.push(`on string ${words.stringName(pin.string)}`);
  if (pin.stop !== undefined && pin.stop > 0) parts.push(`${pin.stop} semitones up the string`);
  if (pin.position !== undefined) parts.push(`in position ${words.positionName(pin.position)}`);
  return `bar ${pin.bar}, beat ${pin.beat}: ${parts.join(' ') || 'anything'}`;
}

/** All masks of a request, one wish each. Longest stays, shares and the hardest move are no masks: the lattice carries them. */
export function wishesOf(
  limits: Limits,
  pins: readonly Pin[],
  instrument: Instrument,
  hand: Hand,
  words: WishWords,
): readonly Wish[] {
  const limit = (name: LimitName, text: string, allows: (placement: Placement) => boolean): Wish => ({
    words: text,
    source: { kind: 'limit', limit: name },
    allows,
  });
  const wishes: Wish[] = limits.barredPositions.map((position) => ({
    words: `${words.positionName(position)} barred`,
    source: { kind: 'limit', limit: 'barred position', position },
    allows: (placement) => placement.position !== position,
  }));
  for (const string of limits.barredStrings ?? []) {
    wishes.push(
      limit('barred string', `string ${words.stringName(string)} not used`, (one) => one.string !== string),
    );
  }
  const { lowest, highest, highestStop, place } = limits;
  if (place) {
    wishes.push(limit('place', `${place.name}: ${place.words}`, (one) => liesIn(place, one)));
  }
  if (lowest !== undefined) {
    wishes.push(
      limit('lowest note', `nothing below ${words.pitchName(lowest)}`, (one) => one.midi >= lowest),
    );
  }
  if (highest !== undefined) {
    wishes.push(
      limit('highest note', `nothing above ${words.pitchName(highest)}`, (one) => one.midi <= highest),
    );
  }
  if (highestStop !== undefined) {
    wishes.push(
      limit('highest stop', `no stop above ${highestStop} semitones`, (one) => one.stop <= highestStop),
    );
  }
  if (limits.relaxedOnly) {
    wishes.push(
      limit('relaxed only', 'no stretch over the relaxed span', (one) => {
        if (isOpenString(one) || regionOf(one.position) === 'octave') return true;
        return spanShare(instrument, hand, one.position, reachOf(one)) <= spanShares.relaxed;
      }),
    );
  }
  for (const pin of pins) {
    wishes.push({
      words: pinWords(pin, words),
      source: { kind: 'pin', pin },
      allows: (placement, slot) => !isPinnedAt(pin, slot) || fitsPin(pin, placement, slot),
    });
  }
  return wishes;
}
