// What is drawn for the note values of a bar: whole notes to sixteenths, and the beams of the page.
import {
  barTicks,
  beamRuns,
  ticksPerQuarter,
  writtenValues,
  type BarGrid,
  type BarStretch,
  type Meter,
  type NoteType,
  type Piece as WrittenPiece,
} from '../music';

/** Denominators of note values: whole, half, quarter, eighth, sixteenth. */
export const noteValues = [1, 2, 4, 8, 16] as const;
export type DrawnValue = (typeof noteValues)[number];

/** One drawn value; a longer sound is several of them, tied. */
export interface DrawnPiece {
  /** Ticks from the start of the bar. */
  readonly offset: number;
  readonly ticks: number;
  readonly value: DrawnValue;
  readonly dots: 0 | 1;
  /** One of three in the time of two. */
  readonly triplet: boolean;
}

/** Values with a head or rest of their own; the breve is drawn as two wholes. */
const drawnValues: Readonly<Partial<Record<NoteType, DrawnValue>>> = {
  breve: 1,
  whole: 1,
  half: 2,
  quarter: 4,
  eighth: 8,
  '16th': 16,
};

function drawnPieces({ start, end, value }: WrittenPiece): readonly DrawnPiece[] {
  const drawn = value && drawnValues[value.type];
  if (!drawn) return [];
  const ticks = (end - start) / (value.type === 'breve' ? 2 : 1);
  const piece = { offset: start, ticks, value: drawn, dots: value.dots, triplet: value.triplet };
  return value.type === 'breve' ? [piece, { ...piece, offset: start + ticks }] : [piece];
}

/**
 * The drawn values of every stretch of a bar. What is off the sixteenth and triplet grids is left out of a longer note, and
 * drawn as a sixteenth where it is all there is, so that any line can be drawn.
 * @param stretches in order, without gap or overlap
 */
export const drawnValuesOf = (
  stretches: readonly BarStretch[],
  grid: BarGrid,
): readonly (readonly DrawnPiece[])[] =>
  writtenValues(stretches, grid).map((written, index): readonly DrawnPiece[] => {
    const pieces = written.flatMap(drawnPieces);
    const { start, end } = stretches[index]!;
    if (pieces.length > 0) return pieces;
    return [{ offset: start, ticks: end - start, value: 16, dots: 0, triplet: false }];
  });

const eighth = ticksPerQuarter / 2;
const endOf = ({ offset, ticks }: DrawnPiece): number => offset + ticks;

/**
 * Which neighbouring notes share a beam: those of one beam group, or four plain eighths filling half a bar of four. Gives
 * lists of indices into `pieces`, each at least two long.
 */
export function beamGroups(
  pieces: readonly DrawnPiece[],
  grid: BarGrid,
  meter: Meter,
): readonly (readonly number[])[] {
  const inputs = pieces.map((piece) => ({
    start: piece.offset,
    end: endOf(piece),
    flags: Math.max(0, noteValues.indexOf(piece.value) - noteValues.indexOf(4)),
  }));
  const runs = beamRuns(inputs, grid);
  return meter.beats === 4 && meter.unit === 4 ? joinHalves(runs, pieces, barTicks(meter) / 2) : runs;
}

/** Two pairs of plain eighths that fill half a bar go under one beam. */
function joinHalves(
  groups: readonly (readonly number[])[],
  pieces: readonly DrawnPiece[],
  half: number,
): readonly (readonly number[])[] {
  const joined: (readonly number[])[] = [];
  for (const group of groups) {
    const before = joined.at(-1);
    const together = [...(before ?? []), ...group];
    const first = pieces[together[0]!]!;
    const plain = together.every((index) => pieces[index]!.ticks === eighth);
    const fillsHalf = first.offset % half === 0 && endOf(pieces[together.at(-1)!]!) === first.offset + half;
    if (before !== undefined && together.length === 4 && plain && fillsHalf)
      joined[joined.length - 1] = together;
    else joined.push(group);
  }
  return joined;
}
