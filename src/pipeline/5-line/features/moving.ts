// How the hand gets from one note to the next: what kind of move it is, how far, and how hard in the time there is.
import {
  defaultMover,
  isOpenString,
  movementTime,
  stopInterval,
  thumbOf,
  thumbPlace,
  timeToMove,
  turningTime,
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
  /** Beats that the second note lasts. */
  readonly toBeats: number;
  /** Moves already worked out: there are few kinds, and the lattice asks for each pair of placements. */
  readonly known: Map<number, Move>;
}

export const makeMoveContext = (
  instrument: Instrument,
  fromLength: Seconds,
  toLength: Seconds,
  rest: Seconds,
  mover: Mover = defaultMover,
  toBeats = 1,
): MoveContext => ({ instrument, mover, fromLength, toLength, rest, toBeats, known: new Map() });

export interface MoveFeature extends Feature<[MoveContext, Placement, Placement]> {
  /** True where the kind of move, the positions it goes between and whether it ends on an open string say it all. */
  readonly isByPositions?: true;
  /**
   * What it looks at in either placement, as a number: placements that agree in it are alike to it. Left out, it looks at
   * everything but the thumb.
   */
  readonly looksAt?: (placement: Placement) => number;
}

const fingerOrder = '01234T';
const frameOrder = ['open', 'closed', 'extended', 'thumb'];
/** Positions and stops go from some semitones below the nut to 31 above it. */
export const below = 32;

/** Everything about a placement but the thumb and how long a stay has lasted, as a number. */
export const placeKey = ({ string, stop, finger, frame, position }: Placement): number =>
  (((string * 64 + stop + below) * 8 + fingerOrder.indexOf(finger)) * 4 + frameOrder.indexOf(frame)) * 64 +
  position +
  below;

/** The key of what a feature that asks for more than open strings makes no difference between. */
export const unseen = -1;

export const bothStopped = (from: Placement, to: Placement): boolean =>
  !isOpenString(from) && !isOpenString(to);

/** Fingers from the thumb up: how far the second lies above the first. */
export const fingersUp = (from: Placement, to: Placement): number => rankOf(to) - rankOf(from);
const rankOf = ({ finger }: Placement): number => (finger === 'T' ? 0 : Number(finger));

/**
 * A hand that turns about its thumb by a semitone: the thumb keeps its place, and the hand turns up for a higher finger and
 * down for a lower one, so that on one string it turns towards the note.
 */
function isPivot(from: Placement, to: Placement): boolean {
  if (!bothStopped(from, to) || from.frame === 'thumb' || to.frame === 'thumb') return false;
  const turn = to.position - from.position;
  return Math.abs(turn) === 1 && fingersUp(from, to) * turn > 0 && thumbPlace(from) === thumbPlace(to);
}

/**
 * True when the thumb can be where the second placement has it: it stays where it is while the hand stays or turns about it,
 * and comes along under the hand in a shift, a rest, or while an open string rings.
 */
export function thumbFollows({ rest }: Pick<MoveContext, 'rest'>, from: Placement, to: Placement): boolean {
  const there = thumbOf(to);
  if (rest > 0 || !bothStopped(from, to)) return there === 0;
  if (from.position === to.position) return there === thumbOf(from);
  return there === 0 || isPivot(from, to);
}

/** What kind of move leads from one note to the next. */
export function kindOfMove(context: Pick<MoveContext, 'rest'>, from: Placement, to: Placement): MoveKind {
  if (from.position === to.position) return 'stay';
  if (isOpenString(to) || context.rest > 0) return 'covered shift';
  return isPivot(from, to) ? 'pivot' : 'bare shift';
}

/** The move of the hand between two notes that follow each other. */
export function moveBetween(context: MoveContext, from: Placement, to: Placement): Move {
  const kind = kindOfMove(context, from, to);
  const key =
    ((moveKinds.indexOf(kind) * 2 + (isOpenString(to) ? 1 : 0)) * 64 + from.position) * 64 + to.position;
  const found = context.known.get(key);
  if (found) return found;
  const move = workOut(context, kind, from, to);
  context.known.set(key, move);
  return move;
}

function workOut(context: MoveContext, kind: MoveKind, from: Placement, to: Placement): Move {
  const { instrument, mover } = context;
  const timeFor = kind === 'pivot' ? turningTime : movementTime;
  const needed = timeFor(instrument, from.position, to.position, mover);
  const free = isOpenString(to) ? context.toLength : context.fromLength;
  const time = (timeToMove(free, isOpenString(to), mover) + context.rest) as Seconds;
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
export const isShift = ({ kind }: Pick<Move, 'kind'>): boolean => isShiftKind(kind);

export const isShiftKind = (kind: MoveKind): boolean => kind === 'bare shift' || kind === 'covered shift';

/** True of every move that takes time: shifts and pivots. */
export const takesTime = (move: Pick<Move, 'kind'>): boolean => move.kind === 'pivot' || isShift(move);

/** True when a shift goes over the heel: the thumb leaves the neck for the side of the body, or comes back to it. */
export const isOverHeel = (
  instrument: Pick<Instrument, 'heel'>,
  { kind, from, to }: Pick<Move, 'kind' | 'from' | 'to'>,
): boolean => isShift({ kind }) && from < instrument.heel !== to < instrument.heel;

/** Small pressures cost little, large ones in proportion: p² / (1 + p). */
export const pressureCost = (pressure: number): number => (pressure * pressure) / (1 + pressure);
