// The hand's way along the neck as geometry: time across, on the axis of the staff, and the neck up and down.
import { isOpenString } from '../../instrument';
import { xOfTick, type SystemLayout } from '../../notation';
import { carriedRun, handWay, type Line } from '../../pipeline/5-line';
import type { NeckScale } from './scale';

type Notes = Pick<Line, 'notes'>;

/** Where the hand is when a note begins, in semitones of its first finger: on its way where open strings carry it. */
const startOf = ({ notes }: Notes, index: number): number => handWay(notes, index).from;

export const segmentKinds = ['stay', 'ride', 'glide', 'shift', 'pivot'] as const;
/**
 * What the hand does until the next note: stays on a stopped note, rests or glides while an open string rings, shifts bare
 * or pivots at the end of a stopped note.
 */
export type SegmentKind = (typeof segmentKinds)[number];

export interface Segment {
  readonly kind: SegmentKind;
  /** SVG path, to be stroked. */
  readonly path: string;
}

export interface TravelMark {
  /** Index of the note in its line. */
  readonly note: number;
  readonly x: number;
  readonly y: number;
  readonly isOpen: boolean;
}

export interface Travel {
  readonly segments: readonly Segment[];
  readonly marks: readonly TravelMark[];
}

/** Share of the time to the next note that a bare shift takes: our assumption, within the usual 25 to 40 % of a beat. */
const shiftShare = 0.33;

const n = (value: number): string => value.toFixed(1);

function kindOf(line: Line, index: number): SegmentKind {
  const next = line.notes[index + 1];
  const moves = next !== undefined && startOf(line, index + 1) !== startOf(line, index);
  if (isOpenString(line.notes[index]!.placement)) return moves ? 'glide' : 'ride';
  if (!moves) return 'stay';
  return next.move.kind === 'pivot' ? 'pivot' : 'shift';
}

/** Alone an open string lets the hand glide; with others the way is straight from one to the next. */
function isAlone({ notes }: Line, index: number): boolean {
  const { first, last } = carriedRun(notes, index);
  return first === last;
}

interface Point {
  readonly x: number;
  readonly y: number;
}

function pathOf(kind: SegmentKind, from: Point, to: Point, bends = true): string {
  const start = `M${n(from.x)} ${n(from.y)}`;
  switch (kind) {
    case 'stay':
    case 'ride':
      return `${start}H${n(to.x)}`;
    case 'glide': {
      if (!bends) return `${start}L${n(to.x)} ${n(to.y)}`;
      const middle = n((from.x + to.x) / 2);
      return `${start}C${middle} ${n(from.y)} ${middle} ${n(to.y)} ${n(to.x)} ${n(to.y)}`;
    }
    case 'shift':
    case 'pivot':
      return `${start}H${n(kneeOf(from, to))}L${n(to.x)} ${n(to.y)}`;
  }
}

/** Where the hand leaves for a bare shift. */
const kneeOf = (from: Point, to: Point): number => to.x - (to.x - from.x) * shiftShare;

/** The mark of a note that begins in a system. */
export function travelMarkOf(
  line: Notes,
  index: number,
  system: Pick<SystemLayout, 'bars'>,
  scale: NeckScale,
): TravelMark {
  const note = line.notes[index]!;
  return {
    note: note.index,
    x: xOfTick(system, note.tick),
    y: scale.y(startOf(line, index)),
    isOpen: isOpenString(note.placement),
  };
}

/** The part of a line's way that falls into one system. */
export function travelIn(line: Line, system: Pick<SystemLayout, 'bars'>, scale: NeckScale): Travel {
  const firstBar = system.bars[0];
  const lastBar = system.bars.at(-1);
  if (firstBar === undefined || lastBar === undefined) return { segments: [], marks: [] };
  const endTick = lastBar.tick + lastBar.ticks;
  const endX = lastBar.x + lastBar.width;
  const segments: Segment[] = [];
  const marks: TravelMark[] = [];
  line.notes.forEach((note, index) => {
    if (note.tick < firstBar.tick || note.tick >= endTick) return;
    const next = line.notes[index + 1];
    const mark = travelMarkOf(line, index, system, scale);
    const { x, y } = mark;
    const before = line.notes[index - 1];
    // The way in from the system before: whatever the hand did there is over by the end of that system.
    if (marks.length === 0 && before !== undefined) {
      const kind = isOpenString(before.placement) ? 'ride' : 'stay';
      segments.push({ kind, path: pathOf(kind, { x: firstBar.x, y }, { x, y }) });
    }
    marks.push(mark);
    if (next === undefined) return;
    const kind = kindOf(line, index);
    const end = {
      x: next.tick < endTick ? xOfTick(system, next.tick) : endX,
      y: scale.y(startOf(line, index + 1)),
    };
    segments.push({ kind, path: pathOf(kind, { x, y }, end, isAlone(line, index)) });
  });
  return { segments, marks };
}

/** All segments of a kind as one path. */
export const pathOfKind = (segments: readonly Segment[], kind: SegmentKind): string =>
  segments.flatMap((segment) => (segment.kind === kind ? [segment.path] : [])).join('');

/** Squares at stopped notes. */
export const stopMarks = (marks: readonly TravelMark[]): string =>
  marks.map(({ x, y, isOpen: rings }) => (rings ? '' : `M${n(x - 3)} ${n(y - 3)}h6v6h-6z`)).join('');

/** Rings at open strings. */
export const ringMarks = (marks: readonly TravelMark[]): string =>
  marks
    .map(({ x, y, isOpen: rings }) => (rings ? `M${n(x - 4)} ${n(y)}a4 4 0 1 0 8 0a4 4 0 1 0 -8 0z` : ''))
    .join('');

/** A bead at every note, drawn by the round ends of a stroke. */
export const beadMarks = (marks: readonly TravelMark[]): string =>
  marks.map(({ x, y }) => `M${n(x)} ${n(y)}h0.01`).join('');
