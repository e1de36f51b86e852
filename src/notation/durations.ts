// Lengths in ticks as note values: what is written for a note or a rest at its place in the bar.
import { ticksPerQuarter, type Meter } from '../music';

/** Denominators of note values: whole, half, quarter, eighth, sixteenth. */
export const noteValues = [1, 2, 4, 8, 16] as const;
export type NoteValue = (typeof noteValues)[number];

/** One written value; a longer sound is several of them, tied. */
export interface Piece {
  /** Ticks from the start of the bar. */
  readonly offset: number;
  readonly ticks: number;
  readonly value: NoteValue;
  readonly dots: 0 | 1;
  /** One of three in the time of two. */
  readonly triplet: boolean;
}

const quarter = ticksPerQuarter;
const eighth = quarter / 2;
const sixteenth = quarter / 4;
const third = quarter / 3;

/** Ticks of a bar of this meter. */
export const barTicks = (meter: Meter): number => (meter.beats * quarter * 4) / meter.unit;

const isCompound = (meter: Meter): boolean => meter.unit === 8 && meter.beats % 3 === 0;

/** Ticks of the group that beams join and rests respect. */
export const beatTicks = (meter: Meter): number => (isCompound(meter) ? quarter + eighth : quarter);

/** The middle of a bar of four, which must stay visible; none in other meters. */
const middleOf = (meter: Meter): number | null =>
  meter.beats === 4 && meter.unit === 4 ? quarter * 2 : null;

interface Shape {
  readonly ticks: number;
  readonly value: NoteValue;
  readonly dots: 0 | 1;
}

const shapes: readonly Shape[] = [
  { ticks: quarter * 6, value: 1, dots: 1 },
  { ticks: quarter * 4, value: 1, dots: 0 },
  { ticks: quarter * 3, value: 2, dots: 1 },
  { ticks: quarter * 2, value: 2, dots: 0 },
  { ticks: quarter + eighth, value: 4, dots: 1 },
  { ticks: quarter, value: 4, dots: 0 },
  { ticks: eighth + sixteenth, value: 8, dots: 1 },
  { ticks: eighth, value: 8, dots: 0 },
  { ticks: sixteenth, value: 16, dots: 0 },
];

function noteFits(shape: Shape, offset: number, meter: Meter): boolean {
  const beat = beatTicks(meter);
  const end = offset + shape.ticks;
  const intoBeat = offset % beat;
  if (intoBeat + shape.ticks <= beat) return true;
  const middle = middleOf(meter);
  const hidesMiddle = middle !== null && offset < middle && end > middle;
  if (intoBeat === 0 && end % beat === 0) return true;
  if (isCompound(meter) || hidesMiddle) return false;
  return intoBeat === 0 || (intoBeat === eighth && shape.ticks === quarter);
}

function restFits(shape: Shape, offset: number, meter: Meter): boolean {
  const beat = beatTicks(meter);
  if (shape.dots === 1 && !isCompound(meter)) return false;
  if ((offset % beat) + shape.ticks <= beat) return true;
  const middle = middleOf(meter);
  return middle !== null && shape.ticks === middle && offset % middle === 0;
}

/** The part of a stretch that is one or two thirds of a quarter; null when it does not begin so. */
function tripletPiece(offset: number, left: number): Piece | null {
  const intoQuarter = offset % quarter;
  if (intoQuarter % third !== 0) return null;
  const ticks = intoQuarter === 0 ? left : Math.min(left, quarter - intoQuarter);
  if (ticks !== third && ticks !== third * 2) return null;
  return { offset, ticks, value: ticks === third ? 8 : 4, dots: 0, triplet: true };
}

/**
 * Writes a stretch of a bar as note or rest values, longest first. Lengths off the sixteenth and triplet grids are
 * written as the nearest shorter value, so that any line can be drawn.
 */
export function writeSpan(
  from: number,
  ticks: number,
  meter: Meter,
  kind: 'note' | 'rest',
): readonly Piece[] {
  const pieces: Piece[] = [];
  const fits = kind === 'note' ? noteFits : restFits;
  let at = from;
  let left = ticks;
  while (left > 0) {
    const offset = at;
    const shape = shapes.find((one) => one.ticks <= left && fits(one, offset, meter));
    const piece =
      tripletPiece(at, left) ??
      (shape && { offset, ticks: shape.ticks, value: shape.value, dots: shape.dots, triplet: false });
    if (piece === undefined) {
      if (pieces.length === 0) pieces.push({ offset, ticks: left, value: 16, dots: 0, triplet: false });
      break;
    }
    pieces.push(piece);
    at += piece.ticks;
    left -= piece.ticks;
  }
  return pieces;
}

/**
 * Which neighbouring notes share a beam: eighths and shorter within one beat, or four plain eighths filling half a bar
 * of four. Gives lists of indices into `pieces`, each at least two long.
 */
export function beamGroups(pieces: readonly Piece[], meter: Meter): readonly (readonly number[])[] {
  const beat = beatTicks(meter);
  const runs: number[][] = [];
  pieces.forEach((piece, index) => {
    if (piece.value < 8) return;
    const run = runs.at(-1);
    const before = pieces[run?.at(-1) ?? -1];
    const joins =
      before !== undefined &&
      before.offset + before.ticks === piece.offset &&
      Math.floor(before.offset / beat) === Math.floor(piece.offset / beat);
    if (joins) run!.push(index);
    else runs.push([index]);
  });
  return joinHalves(
    runs.filter((run) => run.length > 1),
    pieces,
    meter,
  );
}

/** Two pairs of plain eighths that fill half a bar of four go under one beam. */
function joinHalves(
  groups: readonly number[][],
  pieces: readonly Piece[],
  meter: Meter,
): readonly number[][] {
  const middle = middleOf(meter);
  if (middle === null) return groups;
  const joined: number[][] = [];
  for (const group of groups) {
    const before = joined.at(-1);
    const together = [...(before ?? []), ...group];
    const first = pieces[together[0]!]!;
    const plain = together.every((index) => pieces[index]!.ticks === eighth);
    const last = pieces[together.at(-1)!]!;
    const fillsHalf = first.offset % middle === 0 && last.offset + last.ticks === first.offset + middle;
    if (before !== undefined && together.length === 4 && plain && fillsHalf)
      joined[joined.length - 1] = together;
    else joined.push(group);
  }
  return joined;
}
