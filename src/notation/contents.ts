// What is written in each bar, before anything has a place: heads with their signs and ties, rests, chord symbols.
import { barGrid, barStretches, barTicks, type BarGrid, type Key, type Meter, type Sounding } from '../music';
import type { TimelineBar, Timeline } from '../pipeline/2-timeline';
import type { Line, LineNote } from '../pipeline/5-line';
import { chordRuns, type ChordRun } from './chordText';
import { drawnValuesOf, type DrawnPiece } from './durations';
import { decideSigns, staffStep, type Sign } from './pitches';

/** One written head. A note that needs several values has several heads, tied. */
export interface HeadContent {
  /** Index of the note in the line. */
  readonly note: number;
  readonly piece: DrawnPiece;
  readonly step: number;
  readonly sign: Sign | null;
  readonly tiedFrom: boolean;
  readonly tiedTo: boolean;
  /** A dead note: time and hardly pitch. */
  readonly isDead: boolean;
  /** Pulled off from the note before, without a stroke of its own. */
  readonly isPulledOff: boolean;
}

export interface ChordContent {
  /** Ticks from the start of the bar. */
  readonly offset: number;
  readonly runs: readonly ChordRun[];
  /** False when the chord only goes on from before: then it is written where a system begins, not within one. */
  readonly isChange: boolean;
}

export interface BarContent {
  readonly bar: TimelineBar;
  readonly grid: BarGrid;
  readonly heads: readonly HeadContent[];
  /** 'bar' for a whole bar of silence. */
  readonly rests: readonly DrawnPiece[] | 'bar';
  readonly chords: readonly ChordContent[];
  /** Label that begins here, null within a section. */
  readonly section: string | null;
  readonly startsChorus: boolean;
  readonly endsChorus: boolean;
  readonly isLast: boolean;
  /** A repeat sign stands before it; none when left out. */
  readonly opensRepeat?: boolean;
  /** Set when it differs from the bar before, and on the first bar. */
  readonly meter: Meter | null;
  /** Set when the signature differs from that of the bar before; null on the first bar, where every system shows it. */
  readonly keyChange: Key | null;
}

interface DraftHead {
  readonly note: number;
  readonly piece: DrawnPiece;
  readonly tiedFrom: boolean;
  tiedTo: boolean;
}

interface DraftBar {
  readonly grid: BarGrid;
  readonly heads: readonly DraftHead[];
  readonly rests: readonly DrawnPiece[] | 'bar';
}

const isDead = ({ slot }: LineNote): boolean => slot.articulation === 'ghost';

/** A note ends where the next one begins, at the latest. */
const soundings = (notes: readonly LineNote[]): readonly Sounding[] =>
  notes.map(({ tick, ticks }, index) => ({
    start: tick,
    end: Math.min(tick + ticks, notes[index + 1]?.tick ?? Number.POSITIVE_INFINITY),
  }));

/** Splits every note at bar lines and into note values, with the rests between them. */
function draftBars(bars: readonly TimelineBar[], notes: readonly LineNote[]): readonly DraftBar[] {
  const last: (DraftHead | undefined)[] = [];
  return barStretches(bars, soundings(notes)).map((stretches, at) => {
    const { meter, ticks } = bars[at]!;
    const isShort = ticks < barTicks(meter);
    const grid = barGrid(meter, ticks, at === 0 && isShort);
    if (!isShort && stretches.every(({ isRest }) => isRest)) return { grid, heads: [], rests: 'bar' };
    const heads: DraftHead[] = [];
    const rests: DrawnPiece[] = [];
    drawnValuesOf(stretches, grid).forEach((pieces, index) => {
      const { note } = stretches[index]!;
      if (note === null) rests.push(...pieces);
      else
        for (const piece of pieces) {
          const before = last[note];
          if (before) before.tiedTo = true;
          const head: DraftHead = { note, piece, tiedFrom: before !== undefined, tiedTo: false };
          last[note] = head;
          heads.push(head);
        }
    });
    return { grid, heads, rests };
  });
}

const sameMeter = (one: Meter, other: Meter): boolean => one.beats === other.beats && one.unit === other.unit;

function chordsOf(bar: TimelineBar): readonly ChordContent[] {
  return bar.chords.map(({ chord, tick, isChange }) => ({
    offset: tick - bar.tick,
    runs: chordRuns(chord),
    isChange,
  }));
}

/** The contents of all bars in playing order. Without a line the bars hold chord symbols only. */
export function barContents(timeline: Timeline, line: Line | null): readonly BarContent[] {
  const { bars } = timeline;
  const notes = line?.notes ?? [];
  const drafts = draftBars(bars, notes);
  const signs = decideSigns(
    bars.map((bar, index) => ({
      fifths: bar.key.fifths,
      notes: drafts[index]!.heads.map((head) => ({
        pitch: notes[head.note]!.pitch,
        tiedFrom: head.tiedFrom,
        isDead: isDead(notes[head.note]!),
      })),
    })),
  );
  return bars.map((bar, index) => {
    const before = bars[index - 1];
    const after = bars[index + 1];
    return {
      bar,
      grid: drafts[index]!.grid,
      heads: drafts[index]!.heads.map((head, place) => ({
        ...head,
        step: staffStep(notes[head.note]!.pitch),
        sign: signs[index]![place]!,
        isDead: isDead(notes[head.note]!),
        isPulledOff: notes[head.note]!.slot.articulation === 'triplet',
      })),
      rests: line === null ? [] : drafts[index]!.rests,
      chords: chordsOf(bar),
      section: bar.section,
      startsChorus: before?.chorus !== bar.chorus,
      endsChorus: after?.chorus !== bar.chorus,
      isLast: after === undefined,
      meter: before === undefined || !sameMeter(before.meter, bar.meter) ? bar.meter : null,
      keyChange: before !== undefined && before.key.fifths !== bar.key.fifths ? bar.key : null,
    };
  });
}
