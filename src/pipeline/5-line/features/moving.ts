// What it takes to get from one note to the next: shifts by Fitts pressure, fingers, strings.
import weights from '../../../../shared/weights/hand.json' with { type: 'json' };
import {
  defaultMover,
  movementTime,
  regionOf,
  stopInterval,
  timeToMove,
  type Instrument,
  type Mover,
  type Placement,
} from '../../../instrument';
import type { Seconds } from '../../../music';
import { moveKinds, type Move, type MoveKind } from '../types';
import type { Feature } from './feature';

/** The time around a move: how long both notes last and whether a rest parts them. */
export interface MoveContext {
  readonly instrument: Instrument;
  readonly mover: Mover;
  readonly fromLength: Seconds;
  readonly toLength: Seconds;
  /** Silence between the notes; 0 when they follow each other. */
  readonly rest: Seconds;
  /** Moves already worked out: there are few kinds, and the lattice asks for each pair of placements. */
  readonly known: Map<number, Move>;
}

export const makeMoveContext = (
  instrument: Instrument,
  fromLength: Seconds,
  toLength: Seconds,
  rest: Seconds,
  mover: Mover = defaultMover,
): MoveContext => ({ instrument, mover, fromLength, toLength, rest, known: new Map() });

const isOpen = (placement: Placement): boolean => placement.finger === '0';

/** A hand that turns about its thumb by a semitone, to another finger: not a shift. */
function isPivot(from: Placement, to: Placement): boolean {
  return (
    Math.abs(to.position - from.position) === 1 && !isOpen(from) && !isOpen(to) && from.finger !== to.finger
  );
}

function kindOf(context: MoveContext, from: Placement, to: Placement): MoveKind {
  if (from.position === to.position) return 'stay';
  if (isOpen(to) || context.rest > 0) return 'covered shift';
  return isPivot(from, to) ? 'pivot' : 'bare shift';
}

/** The move of the hand between two notes that follow each other. */
export function moveBetween(context: MoveContext, from: Placement, to: Placement): Move {
  const kind = kindOf(context, from, to);
  const key = ((moveKinds.indexOf(kind) * 2 + (isOpen(to) ? 1 : 0)) * 64 + from.position) * 64 + to.position;
  const found = context.known.get(key);
  if (found) return found;
  const move = workOut(context, kind, from, to);
  context.known.set(key, move);
  return move;
}

function workOut(context: MoveContext, kind: MoveKind, from: Placement, to: Placement): Move {
  const { instrument, mover } = context;
  const needed = movementTime(instrument, from.position, to.position, mover);
  const free = isOpen(to) ? context.toLength : context.fromLength;
  const time = (timeToMove(free, isOpen(to), mover) + context.rest) as Seconds;
  return {
    kind,
    from: from.position,
    to: to.position,
    distance: stopInterval(instrument, from.position, to.position),
    time,
    pressure: needed === 0 ? 0 : needed / time,
  };
}

/** True of what moves the hand along the neck: a pivot turns it about its thumb. */
export const isShift = ({ kind }: Pick<Move, 'kind'>): boolean =>
  kind === 'bare shift' || kind === 'covered shift';

/** True when a shift goes over the heel: the thumb leaves the neck for the side of the body, or comes back to it. */
export const isOverHeel = (
  instrument: Pick<Instrument, 'heel'>,
  { kind, from, to }: Pick<Move, 'kind' | 'from' | 'to'>,
): boolean => isShift({ kind }) && from < instrument.heel !== to < instrument.heel;

/** Small pressures cost little, large ones in proportion: p² / (1 + p). */
export const pressureCost = (pressure: number): number => (pressure * pressure) / (1 + pressure);

const shiftWeight = ({ kind }: Move): number =>
  kind === 'bare shift' ? weights.shift : weights.coveredShift;

export type MoveFeature = Feature<[MoveContext, Placement, Placement]>;

const bothStopped = (from: Placement, to: Placement): boolean => !isOpen(from) && !isOpen(to);
const sameFinger = (from: Placement, to: Placement): boolean =>
  bothStopped(from, to) && from.finger === to.finger;

export const moveFeatures: readonly MoveFeature[] = [
  {
    name: 'shift',
    amount: (context, from, to) => {
      if (from.position === to.position) return 0;
      const move = moveBetween(context, from, to);
      return isShift(move) ? shiftWeight(move) * pressureCost(move.pressure) : 0;
    },
  },
  {
    name: 'over the heel',
    amount: (context, from, to) => {
      const { heel } = context.instrument;
      if (from.position < heel === to.position < heel) return 0;
      return isOverHeel(context.instrument, moveBetween(context, from, to)) ? weights.overHeel : 0;
    },
  },
  {
    name: 'pivot',
    amount: (context, from, to) => (kindOf(context, from, to) === 'pivot' ? weights.pivot : 0),
  },
  {
    name: 'same finger again',
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
    name: 'string crossing',
    amount: (_context, from, to) => {
      const crossed = Math.abs(from.string - to.string);
      if (crossed === 0) return 0;
      return weights.crossing.first + (crossed - 1) * weights.crossing.further;
    },
  },
  {
    name: 'camping',
    amount: (_context, from, to) =>
      bothStopped(from, to) && regionOf(from.position) === 'low' && regionOf(to.position) === 'low'
        ? weights.camping
        : 0,
  },
  {
    name: 'open after open',
    amount: (_context, from, to) => (isOpen(from) && isOpen(to) ? weights.openAfterOpen : 0),
  },
];
