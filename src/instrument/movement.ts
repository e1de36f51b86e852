// How hard a shift is: Fitts' index of difficulty in its Shannon form (MacKenzie; ISO 9241-411) over the time there is.
import table from '../../shared/hand/movement.json' with { type: 'json' };
import type { Seconds } from '../music';
import { stopDistance, stopInterval } from './fingerboard';
import type { HandPosition, Instrument, Mover } from './types';

export const defaultMover: Mover = {
  intercept: table.intercept.value,
  slope: table.slope.value,
  tolerance: table.tolerance.value,
  bareShare: table.bareShare.value,
};

/** What a shift depends on. */
type Neck = Pick<Instrument, 'length' | 'fretted'>;

/** Width of the target in mm: the stretch of string within the tolerance either way of a stop; behind a fret all of its space. */
export const targetWidth = (instrument: Neck, stop: number, tolerance: number): number =>
  instrument.fretted
    ? stopDistance(instrument, stop) - stopDistance(instrument, stop - 1)
    : stopDistance(instrument, stop + tolerance / 100) - stopDistance(instrument, stop - tolerance / 100);

/**
 * Index of difficulty of moving the hand between two positions, in bits: log2(D/W + 1), W taken at the target.
 * The string length cancels out.
 */
export function difficulty(
  instrument: Neck,
  from: HandPosition,
  to: HandPosition,
  mover: Mover = defaultMover,
): number {
  return Math.log2(stopInterval(instrument, from, to) / targetWidth(instrument, to, mover.tolerance) + 1);
}

/** Movement time of a shift in seconds; 0 when the hand stays. */
export function movementTime(
  instrument: Neck,
  from: HandPosition,
  to: HandPosition,
  mover: Mover = defaultMover,
): Seconds {
  if (from === to) return 0 as Seconds;
  return (mover.intercept + mover.slope * difficulty(instrument, from, to, mover)) as Seconds;
}

/** Time of a turn about the thumb in seconds: a share of that of a shift as far. */
export const turningTime = (
  instrument: Neck,
  from: HandPosition,
  to: HandPosition,
  mover: Mover = defaultMover,
): Seconds => (movementTime(instrument, from, to, mover) * table.pivotShare.value) as Seconds;

/** Time the hand has to move: the whole note while an open string rings, a share of the beat between stopped notes. */
export const timeToMove = (noteLength: Seconds, isCovered: boolean, mover: Mover = defaultMover): Seconds =>
  (isCovered ? noteLength : noteLength * mover.bareShare) as Seconds;
