// What changing strings costs the plucking hand, and what rings on when a string is left.
import weights from '../../../../shared/weights/hand.json' with { type: 'json' };
import { isOpenString, type Finger, type Placement } from '../../../instrument';
import { type MoveFeature } from './moving';

/** Dearer to a higher string: downwards the finger that has played falls on to the next string. */
const upward = (from: Placement, to: Placement): number =>
  to.string < from.string ? weights.crossing.upward : 1;

const crossed = (from: Placement, to: Placement): number => Math.abs(from.string - to.string);

/** Interval classes that grate: seconds, the tritone, sevenths. */
const grating: ReadonlySet<number> = new Set([1, 2, 6, 10, 11]);
const octave = 12;

/** True when an open string sounds on under a stopped note of another string that it grates with. */
export const gratesOn = (from: Placement, to: Placement): boolean =>
  isOpenString(from) &&
  !isOpenString(to) &&
  from.string !== to.string &&
  grating.has(Math.abs(to.midi - from.midi) % octave);

/**
 * True when a finger of the hand can lie on the string that was left: on the next string, a finger beyond the one that stops,
 * since those behind it hold it up. After the last finger none is left.
 */
export const canDamp = (from: Placement, to: Placement): boolean =>
  crossed(from, to) === 1 && to.finger !== lastFinger(to);

const lastFinger = ({ frame }: Placement): Finger => (frame === 'thumb' ? '3' : '4');

const stringOf = ({ string }: Placement): number => string;

export const stringFeatures: readonly MoveFeature[] = [
  {
    name: 'string crossing',
    looksAt: stringOf,
    amount: (_context, from, to) =>
      from.string === to.string ? 0 : weights.crossing.each * upward(from, to),
  },
  {
    name: 'skipped string',
    looksAt: stringOf,
    amount: ({ fromLength, rest }, from, to) => {
      const skipped = crossed(from, to) - 1;
      if (skipped <= 0) return 0;
      const { skipped: each, seconds } = weights.crossing;
      return (each * skipped * upward(from, to) * seconds) / (fromLength + rest);
    },
  },
  {
    name: 'open after open',
    looksAt: (one) => one.string * 2 + (isOpenString(one) ? 1 : 0),
    amount: (_context, from, to) =>
      isOpenString(from) && isOpenString(to) && from.string !== to.string ? weights.openAfterOpen : 0,
  },
  {
    name: 'open string rings on',
    looksAt: (one) =>
      (one.string * 128 + one.midi) * 3 + (isOpenString(one) ? 2 : one.finger === lastFinger(one) ? 1 : 0),
    amount: ({ rest }, from, to) =>
      rest === 0 && gratesOn(from, to) && !canDamp(from, to) ? weights.ringing : 0,
  },
];
