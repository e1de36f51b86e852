// What moving the hand along the neck costs: shifts, pivots, where it goes and how it finds its place there.
import weights from '../../../../shared/weights/hand.json' with { type: 'json' };
import { isOnExtension, type HandPosition, type Instrument, type Placement } from '../../../instrument';
import {
  isShift,
  isShiftKind,
  kindOfMove,
  moveBetween,
  pressureCost,
  type MoveContext,
  type MoveFeature,
} from './moving';

/** What is left out of a position that has nothing of it. */
function lowCharge(position: HandPosition): number {
  if (isOnExtension(position)) return weights.position.extension;
  if (position === 1) return weights.position.half;
  return position === 2 ? weights.position.first : 0;
}

/** The octave, where the thumb comes up. */
const octave = 12;

/** Semitones to the nearest place that a hand finds without looking: the nut, the heel and the stop behind it, the octave. */
export const fromLandmark = ({ heel }: Pick<Instrument, 'heel'>, position: HandPosition): number =>
  Math.min(
    Math.abs(position - 1),
    Math.abs(position - heel + 1),
    Math.abs(position - heel),
    Math.abs(position - octave),
  );

const movesTo = (from: Placement, to: Placement): boolean => from.position !== to.position;

/** A shift while nothing is stopped, where no note before tells the hand how far it has come. Frets are seen. */
const landsFree = (context: MoveContext, from: Placement, to: Placement): boolean =>
  !context.instrument.fretted && kindOfMove(context, from, to) === 'covered shift';

const features: readonly MoveFeature[] = [
  {
    name: 'shift',
    amount: (context, from, to) => {
      if (!movesTo(from, to)) return 0;
      const move = moveBetween(context, from, to);
      if (!isShift(move)) return 0;
      return (
        (move.kind === 'bare shift' ? weights.shift : weights.coveredShift) * pressureCost(move.pressure)
      );
    },
  },
  {
    name: 'every move',
    amount: (context, from, to) =>
      movesTo(from, to) && isShiftKind(kindOfMove(context, from, to)) ? weights.everyMove : 0,
  },
  {
    // A note that opens the hand for a shift buys a new place: for one semitone a pivot would have done, or staying.
    name: 'carry of a semitone',
    amount: (context, from, to) =>
      Math.abs(to.position - from.position) === 1 && kindOfMove(context, from, to) === 'covered shift'
        ? weights.semitoneCarry
        : 0,
  },
  {
    name: 'over the heel',
    amount: (context, from, to) => {
      const { heel } = context.instrument;
      if (from.position < heel === to.position < heel) return 0;
      return isShiftKind(kindOfMove(context, from, to)) ? weights.overHeel : 0;
    },
  },
  {
    name: 'pivot',
    amount: (context, from, to) => {
      if (!movesTo(from, to) || kindOfMove(context, from, to) !== 'pivot') return 0;
      const { each, pressure } = weights.pivot;
      return each + pressure * pressureCost(moveBetween(context, from, to).pressure);
    },
  },
  {
    // Paid when the hand goes there, not again for each note: who is there may stay for one finger's sake.
    name: 'low position',
    amount: (_context, from, to) => (movesTo(from, to) ? lowCharge(to.position) : 0),
  },
  {
    name: 'landing',
    amount: (context, from, to) => {
      if (!movesTo(from, to) || isOnExtension(to.position) || !landsFree(context, from, to)) return 0;
      const { perSemitone, most } = weights.landing;
      return perSemitone * Math.min(most, fromLandmark(context.instrument, to.position));
    },
  },
];

export const shiftFeatures: readonly MoveFeature[] = features.map((one) => ({ ...one, isByPositions: true }));
