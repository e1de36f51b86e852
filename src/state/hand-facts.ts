// What a hand can hold on a bass, for the words beside the span.
import {
  frameSpan,
  lowestWithin,
  namedPositions,
  spanShares,
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
  /** What it measures in half position, in mm. */
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
