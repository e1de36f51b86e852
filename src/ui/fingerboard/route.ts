// The notes around the current one that the map shows, and how strongly. A fixed set of marks is used over and over: mark
// k always shows the note whose index is k modulo their number, so that a step of the line changes opacities only.
import type { Line, LineNote } from '../../pipeline';
import type { Board, Point } from './geometry';

/** Notes shown behind and ahead of the current one. */
export const routeReach = { behind: 2, ahead: 6 } as const;
/** How many marks the map keeps; one is out of sight, so that a mark fades away before it shows a new note. */
export const markCount = routeReach.behind + routeReach.ahead + 2;

/** What one mark shows. */
export interface Mark {
  readonly note: LineNote;
  /** Notes from the current one: 0 now, negative behind. */
  readonly distance: number;
  readonly opacity: number;
}

/** Growing transparency ahead, a quick fade behind. */
export function markOpacity(distance: number): number {
  if (distance === 0) return 1;
  if (distance > 0) return distance > routeReach.ahead ? 0 : 0.95 - (distance - 1) * 0.14;
  return distance < -routeReach.behind ? 0 : 0.5 / -distance;
}

/** The index of the note that mark `slot` shows when the line is at `current`; it may lie before or after the line. */
export function noteIndexOf(slot: number, current: number): number {
  const least = current - routeReach.behind - 1;
  return least + ((((slot - least) % markCount) + markCount) % markCount);
}

/** Null when the mark has no note to show. */
export function markOf(line: Line, slot: number, current: number): Mark | null {
  const index = noteIndexOf(slot, current);
  const note = line.notes[index];
  if (note === undefined) return null;
  const distance = index - current;
  return { note, distance, opacity: markOpacity(distance) };
}

/** A stretch of thread from one note to the next, as path data from `from` at 0 0; it bows to the left of its way. */
export function threadPath(from: Point, to: Point): string {
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const length = Math.hypot(dx, dy);
  if (length < 1) return '';
  const bow = Math.min(length * 0.2, 26) / length;
  return `M0 0Q${(dx / 2 + dy * bow).toFixed(2)} ${(dy / 2 - dx * bow).toFixed(2)} ${dx.toFixed(2)} ${dy.toFixed(2)}`;
}

export const spotOf = (board: Board, note: LineNote): Point =>
  board.point(note.placement.string, note.placement.stop);

/** Where a note and the thread to it lie, as CSS transforms, and the thread itself. */
export interface Place {
  readonly mark: string;
  readonly thread: string;
  readonly path: string;
}

/** Places of the notes of a line, each worked out when it is first asked for and kept: a mark is asked for at every step. */
export function placesOn(board: Board, line: Line): (note: LineNote) => Place {
  const known = new Map<number, Place>();
  const at = ({ x, y }: Point): string => `translate(${x}px, ${y}px)`;
  const lay = (note: LineNote): Place => {
    const before = line.notes[note.index - 1];
    const spot = spotOf(board, note);
    const start = before ? spotOf(board, before) : spot;
    return { mark: at(spot), thread: at(start), path: before ? threadPath(start, spot) : '' };
  };
  return (note) => {
    const place = known.get(note.index) ?? lay(note);
    known.set(note.index, place);
    return place;
  };
}

/** Notes of a second line that are shown around the current one. */
const otherReach = { behind: 3, ahead: 5 } as const;

const isHeldAlike = (one: LineNote | undefined, other: LineNote): boolean =>
  one !== undefined &&
  one.placement.string === other.placement.string &&
  one.placement.stop === other.placement.stop &&
  one.placement.finger === other.placement.finger;

/**
 * The part of a second line around a note of the first, from the last note they share before it differs to the first they
 * share after; empty where they are alike. The lines may have other rhythms: they are compared moment by moment.
 */
export function otherRoute(line: Line, other: Line, current: number): readonly LineNote[] {
  const tick = line.notes[current]?.tick ?? 0;
  const at = other.notes.findLastIndex((note) => note.tick <= tick);
  const near = other.notes.slice(Math.max(0, at - otherReach.behind), at + otherReach.ahead + 1);
  const mine = new Map(line.notes.map((note) => [note.tick, note]));
  const differs = near.map((note) => !isHeldAlike(mine.get(note.tick), note));
  const first = differs.indexOf(true);
  if (first < 0) return [];
  return near.slice(Math.max(0, first - 1), differs.lastIndexOf(true) + 2);
}
