// What changing fingers costs, and staying in a region for long.
import weights from '../../../../shared/weights/hand.json' with { type: 'json' };
import { isOpenString, regionOf, type Placement } from '../../../instrument';
import { below, bothStopped, fingersUp, placeKey, unseen, type MoveFeature } from './moving';

const sameFinger = (from: Placement, to: Placement): boolean =>
  bothStopped(from, to) && from.finger === to.finger;

/** The same note held in the same way, wherever the thumb is. */
const isSamePlace = (from: Placement, to: Placement): boolean =>
  from.string === to.string &&
  from.stop === to.stop &&
  (isOpenString(to) || (from.finger === to.finger && from.position === to.position));

/**
 * Fingers or hand against the note, on neighbouring semitones of a string: the finger that lies lower plays the higher note
 * though the hand hardly moves, or the hand moves away from it.
 */
export function crossesFingers(from: Placement, to: Placement): boolean {
  const step = to.stop - from.stop;
  if (from.string !== to.string || Math.abs(step) !== 1 || !bothStopped(from, to)) return false;
  const moved = to.position - from.position;
  return moved * step < 0 || (Math.abs(moved) <= 1 && fingersUp(from, to) * step < 0);
}

const stoppedPlace = (placement: Placement): number =>
  isOpenString(placement) ? unseen : placeKey(placement);

const isLow = ({ position }: Placement): boolean => regionOf(position) === 'low';

export const fingeringFeatures: readonly MoveFeature[] = [
  {
    name: 'same finger again',
    looksAt: stoppedPlace,
    amount: (_context, from, to) => {
      if (!sameFinger(from, to)) return 0;
      if (from.position !== to.position) {
        return from.string === to.string
          ? weights.sameFingerShift.sameString
          : weights.sameFingerShift.otherString;
      }
      return from.stop !== to.stop ? weights.sameFingerSlide : 0;
    },
  },
  {
    name: 'fourth finger across strings',
    looksAt: (one) => (one.finger === '4' ? one.string * 64 + one.position + below : unseen),
    amount: (_context, from, to) =>
      from.finger === '4' && to.finger === '4' && from.position === to.position && from.string !== to.string
        ? weights.fourthAcross
        : 0,
  },
  {
    name: 'crossed fingers',
    looksAt: stoppedPlace,
    amount: (_context, from, to) => (crossesFingers(from, to) ? weights.crossedFingers : 0),
  },
  {
    name: 'repeated note moved',
    amount: (_context, from, to) =>
      from.midi === to.midi && !isSamePlace(from, to) ? weights.repeatMoved : 0,
  },
  {
    // By beats beyond the note that came there; less where an open string let the hand off in between.
    name: 'camping',
    looksAt: (one) => (isLow(one) ? placeKey(one) : unseen),
    amount: ({ toBeats }, from, to) => {
      if (isOpenString(to) || !isLow(from) || !isLow(to) || isSamePlace(from, to)) return 0;
      return (isOpenString(from) ? weights.camping.afterOpen : weights.camping.afterStopped) * toBeats;
    },
  },
];
