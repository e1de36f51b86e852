// The line bar by bar as it is written: every stretch of a bar is a note or a rest, with ties over the bar lines.
import type { Line, LineNote } from '../pipeline/5-line';
import type { Timeline, TimelineBar, TimelineChord } from '../pipeline/2-timeline';
import { barGrid, fullBar, type BarGrid } from './bar-grid';
import { writtenValues, type Piece, type Stretch } from './note-values';

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
export interface TimedNote {
  readonly note: LineNote;
  readonly start: number;
  readonly end: number;
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

/** A stretch of the bar and the note that sounds in it. */
interface FilledStretch extends Stretch {
  readonly timed: TimedNote | null;
}

/** The notes of one bar with the rests between them; `sounding` holds every note that touches the bar. */
function fillBar(bar: TimelineBar, sounding: readonly TimedNote[]): FilledStretch[] {
  const stretches: FilledStretch[] = [];
  let at = 0;
  const restUpTo = (tick: number): void => {
    if (tick > at) stretches.push({ start: at, end: tick, isRest: true, timed: null });
  };
  for (const timed of sounding) {
    const start = Math.max(at, timed.start - bar.tick);
    const end = Math.min(timed.end - bar.tick, bar.ticks);
    if (end <= start) continue;
    restUpTo(start);
    stretches.push({ start, end, isRest: false, timed });
    at = end;
  }
  restUpTo(bar.ticks);
  return stretches;
}

/** The rest that fills a bar of any meter has no note value. */
const barRest = (bar: TimelineBar): WrittenNote => ({
  note: null,
  piece: { start: 0, end: bar.ticks, value: null, tuplet: null },
  tiedInto: false,
  tiedOn: false,
});

function writtenNotes(bar: TimelineBar, grid: BarGrid, sounding: readonly TimedNote[]): WrittenNote[] {
  const stretches = fillBar(bar, sounding);
  if (stretches.every(({ isRest }) => isRest)) return [barRest(bar)];
  const values = writtenValues(stretches, grid);
  return stretches.flatMap(({ timed }, index) =>
    values[index]!.map((piece) => ({
      note: timed?.note ?? null,
      piece,
      tiedInto: timed !== null && bar.tick + piece.start > timed.start,
      tiedOn: timed !== null && bar.tick + piece.end < timed.end,
    })),
  );
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
  let first = 0;
  return timeline.bars.map((bar, index) => {
    const barEnd = bar.tick + bar.ticks;
    while (first < notes.length && notes[first]!.end <= bar.tick) first += 1;
    const sounding: TimedNote[] = [];
    for (let at = first; at < notes.length && notes[at]!.start < barEnd; at += 1) sounding.push(notes[at]!);
    const fullTicks = fullBar(bar.meter);
    const grid = barGrid(bar.meter, bar.ticks, index === 0 && bar.ticks < fullTicks);
    const opens = opensPart(timeline.bars, index);
    return {
      bar,
      grid,
      fullTicks,
      notes: writtenNotes(bar, grid, sounding),
      chords: printedChords(timeline.bars, index),
      section: opens ? bar.section : null,
      opensPart: opens,
    };
  });
}
