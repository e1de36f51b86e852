// The thumb behind the neck: it is where the hand is, or where the hand was before it turned about it by a semitone.
import type { Frame, HandPosition, Instrument, Placement, ThumbOff } from './types';

const offsets: readonly ThumbOff[] = [-1, 1];

/**
 * How far the thumb can be from the hand after a pivot. The thumb has a place of its own only behind the neck, from the first
 * stop to the heel; from there up it stays in the crook or comes round. A hand that is stretched is not turned as well.
 */
export const thumbsOff = (
  { heel }: Pick<Instrument, 'heel'>,
  position: HandPosition,
  frame: Frame,
): readonly ThumbOff[] =>
  frame === 'closed' && position >= 1
    ? offsets.filter((off) => position + off >= 1 && position + off < heel)
    : [];

/** Semitones of the thumb from the hand's position. */
export const thumbOf = ({ thumb }: Pick<Placement, 'thumb'>): number => thumb ?? 0;

/** Semitones of the thumb from the nut, as those of positions. */
export const thumbPlace = (placement: Pick<Placement, 'thumb' | 'position'>): number =>
  placement.position + thumbOf(placement);
