// What a hand can hold on a bass, for the words beside the span.
import {
  frameSpan,
  handPosition,
  lowestWithin,
  namedPositions,
  spanShare,
  spanShares,
  stopDistance,
  type Hand,
  type HandPosition,
  type Instrument,
} from '../instrument';

/** An interval between first and last finger. */
export interface HoldFact {
  readonly width: 2 | 3;
  /** Lowest position with the interval inside the comfortable share of the span; null when there is none. */
  readonly comfortableFrom: HandPosition | null;
  /** Lowest position in which it can be held at all. */
  readonly possibleFrom: HandPosition | null;
  /** What it measures in half, in mm. */
  readonly atNut: number;
}

const lowest = namedPositions[0];

/** A whole tone and a minor third: the two frames a hand takes below the octave. */
export const holdFacts = (instrument: Instrument, hand: Hand): readonly HoldFact[] =>
  ([2, 3] as const).map((width) => ({
    width,
    comfortableFrom: lowestWithin(instrument, hand, width, spanShares.comfortable) ?? null,
    possibleFrom: lowestWithin(instrument, hand, width, spanShares.practical) ?? null,
    atNut: lowest === undefined ? 0 : frameSpan(instrument, lowest, width),
  }));

/** A place of the neck in the picture of the span, with the two intervals held there. */
export interface SpanPlace {
  readonly position: HandPosition;
  /** mm from the nut to the first finger. */
  readonly from: number;
  readonly holds: readonly {
    readonly width: 2 | 3;
    /** mm from first to last finger. */
    readonly span: number;
    readonly ease: SpanEase;
  }[];
}

export const spanEases = ['relaxed', 'comfortable', 'practical', 'out of reach'] as const;
export type SpanEase = (typeof spanEases)[number];

function easeOf(share: number): SpanEase {
  if (share <= spanShares.relaxed) return 'relaxed';
  if (share <= spanShares.comfortable) return 'comfortable';
  return share <= spanShares.practical ? 'practical' : 'out of reach';
}

/** The span laid on the board: in half, at the heel, at the octave. */
export const spanPlaces = (instrument: Instrument, hand: Hand): readonly SpanPlace[] =>
  [1, instrument.heel, 12]
    .filter((semitone, index, all) => all.indexOf(semitone) === index)
    .map((semitone) => handPosition(semitone))
    .map((position) => ({
      position,
      from: stopDistance(instrument, position),
      holds: ([2, 3] as const).map((width) => ({
        width,
        span: frameSpan(instrument, position, width),
        ease: easeOf(spanShare(instrument, hand, position, width)),
      })),
    }));
