// How fast this player moves: a few shifts timed, and the seconds a bit that follow from them.
import table from '../../shared/hand/movement.json' with { type: 'json' };
import { difficulty, defaultMover } from './movement';
import type { HandPosition, Instrument, Mover } from './types';

/** Shifts to and fro between two positions, timed together. */
export interface ShiftTrial {
  readonly from: HandPosition;
  readonly to: HandPosition;
  /** How many shifts; there and back are two. */
  readonly count: number;
  /** Time for all of them. */
  readonly seconds: number;
}

/** A mover, or in words why there is none. */
export type Calibration =
  { readonly mover: Mover; readonly problem: null } | { readonly mover: null; readonly problem: string };

const { calibration } = table;

/** Seconds a bit that are taken for a timed shift. */
export const slopeRange = calibration.slope;

/** Bits of one shift of a trial: the mean of both ways, for the target differs. */
function bitsOf(
  instrument: Pick<Instrument, 'length' | 'fretted'>,
  { from, to }: ShiftTrial,
  mover: Mover,
): number {
  return (difficulty(instrument, from, to, mover) + difficulty(instrument, to, from, mover)) / 2;
}

const isUsable = ({ from, to, count, seconds }: ShiftTrial): boolean =>
  from !== to && Number.isInteger(count) && count > 0 && Number.isFinite(seconds) && seconds > 0;

/**
 * Fits movement time = a + b * bits to timed shifts. The intercept keeps its assumed value: a few shifts cannot tell it from
 * the slope. The slope is that of least squares.
 */
export function calibrate(
  instrument: Pick<Instrument, 'length' | 'fretted'>,
  trials: readonly ShiftTrial[],
  mover: Mover = defaultMover,
): Calibration {
  if (trials.length === 0) return { mover: null, problem: 'No shift has been timed yet.' };
  const wrong = trials.findIndex((trial) => !isUsable(trial));
  if (wrong >= 0) {
    const problem = `Shift ${wrong + 1} needs two different positions, a count and a time above nothing.`;
    return { mover: null, problem };
  }
  let products = 0;
  let squares = 0;
  for (const trial of trials) {
    const bits = bitsOf(instrument, trial, mover);
    products += bits * (trial.seconds / trial.count - mover.intercept);
    squares += bits * bits;
  }
  const slope = products / squares;
  const { least, most } = slopeRange;
  if (slope < least || slope > most) {
    const found = Math.round(slope * 1000);
    const range = `${Math.round(least * 1000)} to ${Math.round(most * 1000)}`;
    return {
      mover: null,
      problem: `These times give ${found} ms a bit; hands take ${range}. Time the shifts again, without waiting between them.`,
    };
  }
  return { mover: { ...mover, slope }, problem: null };
}
