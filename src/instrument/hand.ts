// The hand: what its span can hold, in millimetres, at each place of the neck.
import spanTable from '../../shared/hand/span.json' with { type: 'json' };
import { millimetres, type Millimetres } from '../music';
import { stopInterval } from './fingerboard';
import type { Hand, HandPosition, Instrument } from './types';

/** Shares of the flat span up to which a hold is relaxed, comfortable, practical. */
export const spanShares = {
  relaxed: spanTable.relaxed.value,
  comfortable: spanTable.comfortable.value,
  practical: spanTable.practical.value,
} as const;

/** Spans a player may enter, in mm. */
export const spanRange = { least: spanTable.least.value, most: spanTable.most.value } as const;

const { rows: percentileRows } = spanTable.percentiles;

/** What nine adult hands in ten measure at most and at least, in mm; only to say so, never to guess a hand. */
export const usualSpans = {
  least: Math.min(...percentileRows.map(({ p5 }) => p5)),
  most: Math.max(...percentileRows.map(({ p95 }) => p95)),
} as const;

export const defaultHand: Hand = { span: millimetres(spanTable.default.value) };

/** @throws RangeError outside the range of spans */
export function makeHand(span: number): Hand {
  if (!(span >= spanRange.least && span <= spanRange.most)) {
    throw new RangeError(`a span must be from ${spanRange.least} to ${spanRange.most} mm, not ${span}`);
  }
  return { span: millimetres(span) };
}

/** Millimetres from the first finger in a position to a finger some semitones above it. */
export const frameSpan = (
  instrument: Pick<Instrument, 'length'>,
  position: HandPosition,
  width: number,
): Millimetres => stopInterval(instrument, position, position + width);

/** How much of the flat span a hold of `width` semitones takes; above `spanShares.practical` it cannot be held. */
export const spanShare = (
  instrument: Pick<Instrument, 'length'>,
  hand: Hand,
  position: HandPosition,
  width: number,
): number => frameSpan(instrument, position, width) / hand.span;

/** The lowest position in which an interval of `width` semitones stays within a share of the span; undefined if none below the octave. */
export function lowestWithin(
  instrument: Pick<Instrument, 'length'>,
  hand: Hand,
  width: number,
  share: number,
): HandPosition | undefined {
  for (let position = 1; position <= 12; position++) {
    if (spanShare(instrument, hand, position as HandPosition, width) <= share)
      return position as HandPosition;
  }
  return undefined;
}

/**
 * The flat span of a hand that just holds an interval in comfort in a position: "the lowest place where I can hold a whole
 * tone in comfort" says how large the hand is. Kept within the spans a player may enter.
 *
 * @param width semitones from first to last finger, 2 or 3
 */
export function spanFromComfort(
  instrument: Pick<Instrument, 'length'>,
  position: HandPosition,
  width: number,
): Millimetres {
  const span = frameSpan(instrument, position, width) / spanShares.comfortable;
  return millimetres(Math.min(Math.max(span, spanRange.least), spanRange.most));
}
