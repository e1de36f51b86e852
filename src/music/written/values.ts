// Lengths in ticks as written note values: dots, ties and triplets that show the beats of the bar.
import { ticksPerQuarter } from '../units';
import { shortestValue, type BarGrid } from './grid';

/** MusicXML names of the note values, the longest first. */
export const noteTypes = ['breve', 'whole', 'half', 'quarter', 'eighth', '16th', '32nd', '64th'] as const;
export type NoteType = (typeof noteTypes)[number];

export interface NoteValue {
  readonly type: NoteType;
  readonly dots: 0 | 1;
  /** Three in the time of two. */
  readonly triplet: boolean;
}

/** One written note or rest; ticks count from the start of the bar. */
export interface Piece {
  readonly start: number;
  readonly end: number;
  /** Null for a length that no note value has: its duration alone is written. */
  readonly value: NoteValue | null;
  readonly tuplet: 'start' | 'inside' | 'stop' | null;
}

/** A stretch of the bar that holds one note or one rest. */
export interface BarStretch {
  readonly start: number;
  readonly end: number;
  readonly isRest: boolean;
}

const breve = 8 * ticksPerQuarter;

function plainValue(ticks: number): Omit<NoteValue, 'triplet'> | null {
  for (const [index, type] of noteTypes.entries()) {
    const size = breve / 2 ** index;
    if (ticks === size) return { type, dots: 0 };
    // A dotted 64th would need a shorter value than the shortest.
    if (ticks * 2 === size * 3 && size > shortestValue) return { type, dots: 1 };
  }
  return null;
}

/** How the inside of a stretch may be cut: places, how strong each is, and the value of a length. */
interface Cutting {
  readonly step: number;
  level(tick: number): number;
  value(ticks: number): NoteValue | null;
  /** Whether a stretch that has a value must be cut all the same. */
  mustCut(stretch: BarStretch, value: NoteValue): boolean;
}

function innerTicks({ start, end }: BarStretch, step: number): number[] {
  const inner: number[] = [];
  for (let tick = (Math.floor(start / step) + 1) * step; tick < end; tick += step) inner.push(tick);
  return inner;
}

function cut(stretch: BarStretch, cutting: Cutting): Omit<Piece, 'tuplet'>[] {
  const { start, end } = stretch;
  const value = cutting.value(end - start);
  if (value !== null && !cutting.mustCut(stretch, value)) return [{ start, end, value }];
  let strongest: number | null = null;
  for (const tick of innerTicks(stretch, cutting.step)) {
    // Of equals the last, so that the longer value comes first.
    if (strongest === null || cutting.level(tick) >= cutting.level(strongest)) strongest = tick;
  }
  if (strongest === null) return [{ start, end, value }];
  return [...cut({ ...stretch, end: strongest }, cutting), ...cut({ ...stretch, start: strongest }, cutting)];
}

/** Cutting by the beats of the bar. A note may hide one place at most, and none much stronger than its own ends. */
function binaryCutting(grid: BarGrid): Cutting {
  return {
    step: shortestValue,
    level: grid.level,
    value: (ticks) => {
      const plain = plainValue(ticks);
      return plain && { ...plain, triplet: false };
    },
    mustCut: (stretch, value) => {
      const wholeGroups = grid.edges.has(stretch.start) && grid.edges.has(stretch.end);
      if (wholeGroups) return false;
      const own = grid.level(stretch.start);
      // Only what is stronger than the start is looked for.
      const inner = innerTicks(stretch, own < 0 ? shortestValue : grid.step);
      if (inner.some((tick) => grid.edges.has(tick))) return true;
      const hidden = inner.map(grid.level).filter((level) => level > own);
      if (stretch.isRest)
        return (
          hidden.length > 0 || value.dots > 0 || stretch.end - stretch.start > grid.longestRest(stretch.start)
        );
      const ends = Math.min(own, grid.level(stretch.end));
      return hidden.length > 1 || hidden.some((level) => level > ends + 1);
    },
  };
}

/** Cutting inside one unit divided in three. */
function tripletCutting(unitStart: number, unit: number): Cutting {
  const levelOf = (tick: number): number => (tick % (unit / 3) === 0 ? 0 : tick % (unit / 6) === 0 ? -1 : -2);
  return {
    step: unit / 12,
    level: (tick) => levelOf(tick - unitStart),
    value: (ticks) => {
      const plain = plainValue((ticks * 3) / 2);
      return plain && { ...plain, triplet: true };
    },
    mustCut: () => false,
  };
}

/** Starts of the units that are divided in three, in order. */
function tripletUnits(stretches: readonly BarStretch[], grid: BarGrid): readonly number[] {
  const unit = grid.tupletUnit;
  const isThirds = new Map<number, boolean>();
  for (const { start } of stretches) {
    const into = (start - grid.firstUnit) % unit;
    if (into === 0) continue;
    const unitStart = start - into;
    if (into % (unit / 12) !== 0) isThirds.set(unitStart, false);
    else if (into % shortestValue !== 0 && !isThirds.has(unitStart)) isThirds.set(unitStart, true);
  }
  return [...isThirds].flatMap(([start, is]) => (is && start < grid.ticks ? [start] : []));
}

/**
 * The written values of a bar.
 * @param stretches in order, without gap or overlap
 * @returns for each stretch its pieces, to be tied together when it is a note
 */
export function writtenValues(stretches: readonly BarStretch[], grid: BarGrid): Piece[][] {
  const unit = grid.tupletUnit;
  const inThirds = tripletUnits(stretches, grid);
  const binary = binaryCutting(grid);
  return stretches.map((stretch) => {
    const pieces: Piece[] = [];
    let plainFrom = stretch.start;
    const plainUpTo = (end: number): void => {
      if (end <= plainFrom) return;
      pieces.push(...cut({ ...stretch, start: plainFrom, end }, binary).map((p) => ({ ...p, tuplet: null })));
      plainFrom = end;
    };
    for (const unitStart of inThirds) {
      const unitEnd = unitStart + unit;
      const start = Math.max(stretch.start, unitStart);
      const end = Math.min(stretch.end, unitEnd);
      if (start >= end) continue;
      plainUpTo(start);
      for (const piece of cut({ ...stretch, start, end }, tripletCutting(unitStart, unit))) {
        const tuplet = piece.start === unitStart ? 'start' : piece.end === unitEnd ? 'stop' : 'inside';
        pieces.push({ ...piece, tuplet });
      }
      plainFrom = end;
    }
    plainUpTo(stretch.end);
    return pieces;
  });
}
