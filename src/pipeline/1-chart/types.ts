// A chart as written: what stands on the page, before any repeat is followed.
import type { Bpm, Chord, Key, Meter, ScaleName } from '../../music';

/** A place in a text; line and column count from 1, columns in UTF-16 units. */
export interface Span {
  readonly line: number;
  readonly column: number;
  readonly length: number;
}

export const severities = ['error', 'warning', 'note'] as const;
export type Severity = (typeof severities)[number];

/** Something to tell the person about their input. An error was left out of the music; a warning was read the likely way. */
export interface Problem extends Span {
  readonly code: string;
  readonly severity: Severity;
  /** A plain sentence. */
  readonly message: string;
}

export const feels = ['swing', 'two-feel', 'waltz', 'ballad', 'bossa', 'straight'] as const;
export type Feel = (typeof feels)[number];

export interface ChartHeader {
  readonly title: string;
  /** Null when the chart names none: the timeline then infers one. */
  readonly key: Key | null;
  readonly meter: Meter;
  /** Null when the chart names none. */
  readonly tempo: Bpm | null;
  readonly feel: Feel;
  /** Order of parts such as ["A","A","B","A"], empty when the bars are played as they stand. */
  readonly parts: readonly string[];
}

/** A chord, or N.C. (chord null), at its place in the bar. */
export interface ChartChord {
  /** Null for N.C. */
  readonly chord: Chord | null;
  /** Ticks from the start of the bar. */
  readonly offset: number;
  /** Ticks it lasts within the bar. */
  readonly length: number;
  /** Printed above as an alternative; the player may choose it. */
  readonly alternates: readonly Chord[];
  readonly optional: boolean;
  /** The scale asked for in braces; left out where the program chooses. */
  readonly scale?: ScaleName;
  /** Where the symbol stands in the text; null when it came from elsewhere (a simile, a file without lines). */
  readonly span: Span | null;
}

export const jumps = [
  'D.C.',
  'D.C. al Fine',
  'D.C. al Coda',
  'D.S.',
  'D.S. al Fine',
  'D.S. al Coda',
] as const;
export type Jump = (typeof jumps)[number];

/** One bar as written. */
export interface ChartBar {
  /** Chords in order; at least one, the first at offset 0. A bar that only goes on with the chord before it repeats that chord. */
  readonly chords: readonly ChartChord[];
  readonly meter: Meter;
  /** The key from this bar on, null when it does not change here. */
  readonly keyChange: Key | null;
  /** Section label that starts here: "A", "Bridge", "Intro", "Tag". */
  readonly section: string | null;
  readonly repeatStart: boolean;
  /** How often the stretch that ends here is played in all; null when no repeat ends here. */
  readonly repeatEnd: number | null;
  /** Numbers of the passes that play this ending, set on every bar of the ending; null outside endings. */
  readonly ending: readonly number[] | null;
  readonly segno: boolean;
  readonly coda: boolean;
  readonly toCoda: boolean;
  readonly fine: boolean;
  readonly jump: Jump | null;
  /** 1 for `%`, 2 for the two-bar simile (on both bars), null when chords are written out. */
  readonly simile: 1 | 2 | null;
  /** True for an incomplete first bar. */
  readonly pickup: boolean;
  /** True when a double bar line closes this bar. */
  readonly doubleBar: boolean;
  readonly span: Span | null;
}

export interface Chart {
  readonly header: ChartHeader;
  readonly bars: readonly ChartBar[];
}

/** What a reader gives: whatever could be understood, and what could not. */
export interface ChartReading {
  readonly chart: Chart;
  readonly problems: readonly Problem[];
}
