// How fast this player moves: tempos at which given shifts still feel in time, and the three figures that follow from them.
//
// A shift between two positions needs a + b x bits (Fitts). While an open string rings it has the whole note for that; between
// two stopped notes it has a share s of the first. At the tempo at which it still just feels in time, need and time are equal:
//
//   under an open string   a + b x bits = note        a line through the shifts of different width: gives a and b
//   bare                   a + b x bits = s x note    one ratio, once a and b are known
//
// Both are fitted by least squares; two shifts under open strings and one bare shift are met exactly.
import table from '../../shared/hand/movement.json' with { type: 'json' };
import { difficulty, defaultMover } from './movement';
import { handPosition } from './positions';
import type { HandPosition, Instrument, Mover } from './types';

export const shiftManners = ['covered', 'bare'] as const;
/** While an open string rings between the two notes, or from one stopped note to the next. */
export type ShiftManner = (typeof shiftManners)[number];

/** Shifts to and fro between two positions in even quarter notes. */
export interface ShiftTrial {
  readonly from: HandPosition;
  readonly to: HandPosition;
  readonly manner: ShiftManner;
  /** Quarter notes a minute at which they still feel in time. */
  readonly tempo: number;
}

/** A mover, or in words why there is none. */
export type Calibration =
  { readonly mover: Mover; readonly problem: null } | { readonly mover: null; readonly problem: string };

const { calibration } = table;

/** What is taken from a calibration: seconds, seconds a bit, share of the note. */
export const moverRanges = {
  intercept: calibration.intercept,
  slope: calibration.slope,
  bareShare: calibration.bareShare,
} as const;
/** Tempos that may be said, quarter notes a minute. */
export const shiftTempoRange = calibration.tempo;
/** The shifts a player is asked about. */
export const shiftsToTry: readonly Omit<ShiftTrial, 'tempo'>[] = calibration.shifts.map((row) => ({
  from: handPosition(row.from),
  to: handPosition(row.to),
  manner: shiftManners.find((one) => one === row.manner)!,
}));

interface Range {
  readonly least: number;
  readonly most: number;
}
const isWithin = (value: number, { least, most }: Range): boolean => value >= least && value <= most;

/** A shift as a point: how hard it is, and the seconds of a quarter note at its tempo. */
interface Point {
  readonly bits: number;
  readonly note: number;
}

/** Bits of one shift of a trial: the mean of both ways, for the target differs. */
function pointOf(
  instrument: Pick<Instrument, 'length' | 'fretted'>,
  { from, to, tempo }: ShiftTrial,
  mover: Mover,
): Point {
  const bits = (difficulty(instrument, from, to, mover) + difficulty(instrument, to, from, mover)) / 2;
  return { bits, note: 60 / tempo };
}

const sum = (values: readonly number[]): number => values.reduce((total, one) => total + one, 0);
const mean = (values: readonly number[]): number => sum(values) / values.length;

/** Shifts whose bits differ by less are as wide as each other: no line goes through them. */
const leastSpread = 0.3;

/** Least squares of note = intercept + slope x bits with no intercept under 0; null where all shifts are about as wide. */
function lineThrough(points: readonly Point[]): Pick<Mover, 'intercept' | 'slope'> | null {
  const bits = points.map((one) => one.bits);
  if (points.length < 2 || Math.max(...bits) - Math.min(...bits) < leastSpread) return null;
  const [x, y] = [mean(bits), mean(points.map(({ note }) => note))];
  const slope =
    sum(points.map((one) => (one.bits - x) * (one.note - y))) / sum(bits.map((one) => (one - x) ** 2));
  const intercept = y - slope * x;
  if (intercept >= 0) return { intercept, slope };
  // No movement ends before it begins: the best line of those through the origin.
  const through = sum(points.map((one) => one.bits * one.note)) / sum(bits.map((one) => one ** 2));
  return { intercept: 0, slope: through };
}

/** Least squares of intercept + slope x bits = share x note. */
function shareOf(points: readonly Point[], { intercept, slope }: Pick<Mover, 'intercept' | 'slope'>): number {
  const products = points.map(({ bits, note }) => (intercept + slope * bits) * note);
  return sum(products) / sum(points.map(({ note }) => note ** 2));
}

function faultOf(trials: readonly ShiftTrial[]): string | null {
  const { least, most } = shiftTempoRange;
  const wrong = trials.findIndex(({ from, to, tempo }) => from === to || !isWithin(tempo, shiftTempoRange));
  if (wrong < 0) return null;
  return `Shift ${wrong + 1} needs two different positions and a tempo from ${least} to ${most}.`;
}

/**
 * Intercept, slope and the share of the note that a bare shift gets, from tempos at which shifts still feel in time. Needs two
 * shifts of different width under an open string and one bare shift; more are fitted by least squares.
 */
export function calibrate(
  instrument: Pick<Instrument, 'length' | 'fretted'>,
  trials: readonly ShiftTrial[],
  mover: Mover = defaultMover,
): Calibration {
  const refused = (problem: string): Calibration => ({ mover: null, problem });
  const fault = faultOf(trials);
  if (fault) return refused(fault);
  const points = (manner: ShiftManner): readonly Point[] =>
    trials.filter((trial) => trial.manner === manner).map((trial) => pointOf(instrument, trial, mover));
  const [covered, bare] = [points('covered'), points('bare')];
  const line = lineThrough(covered);
  if (!line || bare.length === 0)
    return refused('It takes two shifts of different width under an open string, and one bare shift.');
  if (!isWithin(line.slope, moverRanges.slope) || !isWithin(line.intercept, moverRanges.intercept))
    return refused(
      line.slope < moverRanges.slope.least
        ? 'Under an open string the wide shifts would hardly take longer than the narrow ones. Try the widest and the narrowest again.'
        : 'Under an open string these tempos are slower than any hand needs. Try them again, a little faster.',
    );
  const bareShare = shareOf(bare, line);
  if (!isWithin(bareShare, moverRanges.bareShare))
    return refused(
      bareShare > moverRanges.bareShare.most
        ? 'The bare shifts would be quicker than the same shifts under an open string. Try both again.'
        : 'The bare shifts would leave the hand hardly any of the note. Try them again, a little faster.',
    );
  return { mover: { ...mover, ...line, bareShare, isCalibrated: true }, problem: null };
}
