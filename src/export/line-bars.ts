// The line bar by bar as it is written: every stretch of a bar is a note or a rest, with ties over the bar lines.
import {
  barGrid,
  barStretches,
  barTicks,
  writtenValues,
  type BarGrid,
  type FilledStretch,
  type Piece,
  type Sounding,
} from '../music';
import type { Line, LineNote } from '../pipeline/5-line';
import type { Timeline, TimelineBar, TimelineChord } from '../pipeline/2-timeline';

/** One written note or rest. */
export interface WrittenNote {
  /** Null for a rest. */
  readonly note: LineNote | null;
  readonly piece: Piece;
  /** The note goes on from the piece before. */
  readonly tiedInto: boolean;
  /** The note goes on in the next piece. */
  readonly tiedOn: boolean;
}

export interface WrittenBar {
  readonly bar: TimelineBar;
  readonly grid: BarGrid;
  /** Length that the meter asks for; a pickup is shorter. */
  readonly fullTicks: number;
  readonly notes: readonly WrittenNote[];
  /** Chords whose symbol is printed: where the harmony changes, and again where a section or chorus opens. */
  readonly chords: readonly TimelineChord[];
  /** Label of the section that opens here. */
  readonly section: string | null;
  /** A section or a chorus opens here. */
  readonly opensPart: boolean;
}

/** A note with the time it really has: at least one tick, none of it under the next note or beyond the form. */
export interface TimedNote extends Sounding {
  readonly note: LineNote;
}

/** The notes of the line that lie inside the form, in order of time. */
export function timedNotes(timeline: Timeline, line: Line): TimedNote[] {
  const inside = line.notes.filter((note) => note.tick < timeline.ticks);
  return inside.map((note, index) => {
    const next = inside[index + 1]?.tick ?? timeline.ticks;
    const end = Math.min(note.tick + note.ticks, next, timeline.ticks);
    return { note, start: note.tick, end: Math.max(note.tick + 1, end) };
  });
}

/** The rest that fills a bar of any meter has no note value. */
const barRest = (bar: TimelineBar): WrittenNote => ({
  note: null,
  piece: { start: 0, end: bar.ticks, value: null, tuplet: null },
  tiedInto: false,
  tiedOn: false,
});

function writtenNotes(
  bar: TimelineBar,
  grid: BarGrid,
  stretches: readonly FilledStretch[],
  notes: readonly TimedNote[],
): WrittenNote[] {
  if (stretches.every(({ isRest }) => isRest)) return [barRest(bar)];
  const values = writtenValues(stretches, grid);
  return stretches.flatMap((stretch, index) => {
    const timed = stretch.note === null ? null : notes[stretch.note]!;
    return values[index]!.map((piece) => ({
      note: timed?.note ?? null,
      piece,
      tiedInto: timed !== null && bar.tick + piece.start > timed.start,
      tiedOn: timed !== null && bar.tick + piece.end < timed.end,
    }));
  });
}

/** Whether a section or a chorus opens with this bar. */
export function opensPart(bars: readonly TimelineBar[], index: number): boolean {
  const bar = bars[index]!;
  const before = bars[index - 1];
  if (before === undefined || bar.chorus !== before.chorus) return true;
  return bar.section !== null;
}

/** The chords of a bar whose symbols are printed. */
export const printedChords = (bars: readonly TimelineBar[], index: number): TimelineChord[] =>
  bars[index]!.chords.filter((chord, place) => chord.isChange || (place === 0 && opensPart(bars, index)));

/** The whole line, bar by bar. */
export function writtenBars(timeline: Timeline, line: Line): WrittenBar[] {
  const notes = timedNotes(timeline, line);
  const stretches = barStretches(timeline.bars, notes);
  return timeline.bars.map((bar, index) => {
    const fullTicks = barTicks(bar.meter);
    const grid = barGrid(bar.meter, bar.ticks, index === 0 && bar.ticks < fullTicks);
    const opens = opensPart(timeline.bars, index);
    return {
      bar,
      grid,
      fullTicks,
      notes: writtenNotes(bar, grid, stretches[index]!, notes),
      chords: printedChords(timeline.bars, index),
      section: opens ? bar.section : null,
      opensPart: opens,
    };
  });
}
