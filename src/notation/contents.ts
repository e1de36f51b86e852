// What is written in each bar, before anything has a place: heads with their signs and ties, rests, chord symbols.
import type { Key, Meter } from '../music';
import type { TimelineBar, Timeline } from '../pipeline/2-timeline';
import type { Line, LineNote } from '../pipeline/5-line';
import { chordRuns, type ChordRun } from './chordText';
import { barTicks, writeSpan, type Piece } from './durations';
import { decideSigns, staffStep, type Sign } from './pitches';

/** One written head. A note that needs several values has several heads, tied. */
export interface HeadContent {
  /** Index of the note in the line. */
  readonly note: number;
  readonly piece: Piece;
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
  readonly heads: readonly HeadContent[];
  /** 'bar' for a whole bar of silence. */
  readonly rests: readonly Piece[] | 'bar';
  readonly chords: readonly ChordContent[];
  /** Label that begins here, null within a section. */
  readonly section: string | null;
  readonly startsChorus: boolean;
  readonly endsChorus: boolean;
  readonly isLast: boolean;
  /** Set when it differs from the bar before, and on the first bar. */
  readonly meter: Meter | null;
  /** Set when the signature differs from that of the bar before; null on the first bar, where every system shows it. */
  readonly keyChange: Key | null;
}

interface DraftHead {
  readonly note: number;
  readonly piece: Piece;
  readonly tiedFrom: boolean;
  tiedTo: boolean;
}

/** Splits every note at bar lines and into note values. */
function draftHeads(bars: readonly TimelineBar[], notes: readonly LineNote[]): readonly DraftHead[][] {
  const heads: DraftHead[][] = bars.map(() => []);
  let first = 0;
  notes.forEach((note, index) => {
    const end = Math.min(note.tick + note.ticks, notes[index + 1]?.tick ?? Number.POSITIVE_INFINITY);
    while (first < bars.length && bars[first]!.tick + bars[first]!.ticks <= note.tick) first += 1;
    let previous: DraftHead | undefined;
    for (let at = first; at < bars.length && bars[at]!.tick < end; at += 1) {
      const bar = bars[at]!;
      const from = Math.max(note.tick, bar.tick) - bar.tick;
      const to = Math.min(end, bar.tick + bar.ticks) - bar.tick;
      for (const piece of writeSpan(from, to - from, bar.meter, 'note')) {
        if (previous) previous.tiedTo = true;
        previous = { note: index, piece, tiedFrom: previous !== undefined, tiedTo: false };
        heads[at]!.push(previous);
      }
    }
  });
  return heads;
}

function restsOf(bar: TimelineBar, heads: readonly DraftHead[]): readonly Piece[] | 'bar' {
  if (heads.length === 0 && bar.ticks === barTicks(bar.meter)) return 'bar';
  const rests: Piece[] = [];
  let at = 0;
  for (const { piece } of [...heads, { piece: { offset: bar.ticks as number, ticks: 0 } }]) {
    rests.push(...writeSpan(at, piece.offset - at, bar.meter, 'rest'));
    at = piece.offset + piece.ticks;
  }
  return rests;
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
  const drafts = draftHeads(bars, notes);
  const signs = decideSigns(
    bars.map((bar, index) => ({
      fifths: bar.key.fifths,
      notes: drafts[index]!.map((head) => ({ pitch: notes[head.note]!.pitch, tiedFrom: head.tiedFrom })),
    })),
  );
  return bars.map((bar, index) => {
    const before = bars[index - 1];
    const after = bars[index + 1];
    return {
      bar,
      heads: drafts[index]!.map((head, place) => ({
        ...head,
        step: staffStep(notes[head.note]!.pitch),
        sign: signs[index]![place]!,
        isDead: notes[head.note]!.slot.articulation === 'ghost',
        isPulledOff: notes[head.note]!.slot.articulation === 'triplet',
      })),
      rests: line === null ? [] : restsOf(bar, drafts[index]!),
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
