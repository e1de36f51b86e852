// The usual way of fingering as costs: what is taught first, before the neck is known.
import weights from '../../../shared/weights/usual.json' with { type: 'json' };
import {
  handPosition,
  isOpenString,
  type FingeringWay,
  type Instrument,
  type Placement,
} from '../../instrument';
import type { HoldFeature, MoveFeature } from '../5-line';

/** The way of fingering that is taught first on an instrument. */
export const usualWayOf = ({ fretted }: Pick<Instrument, 'fretted'>): FingeringWay =>
  fretted ? { id: '1-2-3-4', from: handPosition(1) } : { id: '1-2-4' };

const bothStopped = (from: Placement, to: Placement): boolean => !isOpenString(from) && !isOpenString(to);

export const usualHold: readonly HoldFeature[] = [
  { name: 'open string', amount: (_player, placement) => (isOpenString(placement) ? weights.openString : 0) },
  {
    name: 'above the first position',
    amount: (_player, placement) => {
      if (isOpenString(placement)) return 0;
      return Math.max(0, placement.position - weights.position.free) * weights.position.perSemitoneAbove;
    },
  },
];

export const usualMove: readonly MoveFeature[] = [
  {
    name: 'shift',
    amount: (_context, from, to) =>
      from.position === to.position
        ? 0
        : weights.shift.each + Math.abs(to.position - from.position) * weights.shift.perSemitone,
  },
  {
    name: 'shift up not on the first finger',
    amount: (_context, from, to) =>
      bothStopped(from, to) && to.position > from.position && to.finger !== '1'
        ? weights.shiftUpNotOnFirst
        : 0,
  },
  {
    name: 'same finger again',
    amount: (_context, from, to) => {
      if (!bothStopped(from, to) || from.finger !== to.finger) return 0;
      if (from.position === to.position) return from.stop === to.stop ? 0 : weights.slide;
      return to.finger === '1' ? weights.sameFinger.first : weights.sameFinger.other;
    },
  },
  {
    name: 'hand against the note',
    amount: (_context, from, to) => {
      const step = to.stop - from.stop;
      const isSemitone = from.string === to.string && Math.abs(step) === 1 && bothStopped(from, to);
      return isSemitone && (to.position - from.position) * step < 0 ? weights.handAgainstNote : 0;
    },
  },
  {
    name: 'string crossing',
    amount: (_context, from, to) => Math.abs(from.string - to.string) * weights.crossing,
  },
];
