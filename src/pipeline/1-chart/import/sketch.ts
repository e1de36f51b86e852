// Bars as a file gives them, and what makes a chart of them: every bar filled, every chord with its length.
import { parseScaleName, type Chord, type Key, type Meter } from '../../../music';
import { barTicks, shareEvenly, beatsInBar, beatTicks } from '../meter';
import type { ChartBar, ChartChord, Jump, Span } from '../types';
import type { ImportedNote } from './given';
import type { ImportProblems } from './problems';

/** A chord symbol at its place; several at one place are alternatives. */
export interface SketchChord {
  readonly tick: number;
  /** Null for N.C. */
  readonly chord: Chord | null;
  readonly isAlternate: boolean;
  readonly optional: boolean;
  readonly span: Span;
}

/** The name of a scale in braces over the staff, for the chord at its place. */
export interface SketchScale {
  readonly tick: number;
  readonly text: string;
}

/** The name in a text such as "{lydian dominant}" over the staff; undefined for any other text. */
export const scaleInWords = (text: string): string | undefined => /^\s*\{([^{}]{1,40})\}\s*$/.exec(text)?.[1];

/** A bar while it is read. */
export interface SketchBar {
  /** As the file numbers it, for messages. */
  readonly number: string;
  meter: Meter;
  readonly span: Span;
  /** Ticks filled by what stands in it; 0 when nothing does. */
  length: number;
  /** In order of the file, not yet of time. */
  chords: SketchChord[];
  scales: SketchScale[];
  notes: Omit<ImportedNote, 'bar'>[];
  keyChange: Key | null;
  section: string | null;
  repeatStart: boolean;
  repeatEnd: boolean;
  /** Number of times said beside the repeat sign. */
  times: number | null;
  /** The passes of an ending bracket that begins with this bar. */
  opensEnding: readonly number[] | null;
  /** The bracket ends with this bar, closed or left open on the page. */
  endingStops: 'closed' | 'open' | null;
  segno: boolean;
  /** Tick of the coda sign. */
  coda: number | null;
  toCoda: boolean;
  fine: boolean;
  jump: Jump | null;
  simile: 1 | 2 | null;
  doubleBar: boolean;
}

export const sketchBar = (number: string, meter: Meter, span: Span): SketchBar => ({
  number,
  meter,
  span,
  length: 0,
  chords: [],
  scales: [],
  notes: [],
  keyChange: null,
  section: null,
  repeatStart: false,
  repeatEnd: false,
  times: null,
  opensEnding: null,
  endingStops: null,
  segno: false,
  coda: null,
  toCoda: false,
  fine: false,
  jump: null,
  simile: null,
  doubleBar: false,
});

/** Symbols without anything that says how long they last share the bar evenly. */
export function spreadChords(bar: SketchBar): void {
  const places = [...new Set(bar.chords.map(({ tick }) => tick))];
  if (bar.length > 0 || places.length < 2) return;
  const { meter } = bar;
  const isFew = places.length <= beatsInBar(meter);
  const units = isFew ? beatsInBar(meter) : places.length;
  const unit = isFew ? beatTicks(meter) : Math.floor(barTicks(meter) / places.length);
  const starts = new Map<number, number>();
  let at = 0;
  for (const [index, share] of shareEvenly(units, places.length).entries()) {
    starts.set(places[index]!, at * unit);
    at += share;
  }
  bar.chords = bar.chords.map((chord) => ({ ...chord, tick: starts.get(chord.tick)! }));
}

/** Chords at one place become one with its alternatives; a symbol that belongs to no other one stands for itself. */
function grouped(bar: SketchBar): Omit<ChartChord, 'length'>[] {
  const sorted = [...bar.chords].sort((a, b) => a.tick - b.tick);
  const groups: Omit<ChartChord, 'length'>[] = [];
  for (let from = 0; from < sorted.length;) {
    let to = from;
    while (sorted[to]?.tick === sorted[from]!.tick) to += 1;
    const own = sorted.slice(from, to);
    const main = own.find(({ isAlternate }) => !isAlternate) ?? own[0]!;
    groups.push({
      chord: main.chord,
      offset: main.tick,
      alternates: own.flatMap((one) => (one === main || one.chord === null ? [] : [one.chord])),
      optional: main.optional,
      span: main.span,
    });
    from = to;
  }
  return groups;
}

const goingOn = (chord: Chord | null): Omit<ChartChord, 'length'> => ({
  chord,
  offset: 0,
  alternates: [],
  optional: false,
  span: null,
});

/**
 * The chords of a bar with their lengths.
 * @param before the chord that sounds when the bar begins
 * @param length of the bar in ticks
 */
export function chordsOf(
  bar: SketchBar,
  before: Chord | null,
  length: number,
  problems: ImportProblems,
): ChartChord[] {
  const all = grouped(bar);
  const inside = all.filter(({ offset }) => offset < length);
  if (inside.length < all.length) problems.add('bar-long', bar.span, { bar: bar.number });
  const filled = inside[0]?.offset === 0 ? inside : [goingOn(before), ...inside];
  const scaleAt = (tick: number): Pick<ChartChord, 'scale'> => {
    const asked = bar.scales.find((scale) => scale.tick === tick);
    const scale = asked && parseScaleName(asked.text);
    if (asked && !scale) problems.add('scale-unread', bar.span, { bar: bar.number, text: asked.text });
    return scale ? { scale } : {};
  };
  return filled.map((chord, index) => ({
    ...chord,
    ...(chord.chord === null ? {} : scaleAt(chord.offset)),
    length: (filled[index + 1]?.offset ?? length) - chord.offset,
  }));
}

/** What a bar is before its chords, its ending and its repeats are settled. */
export const plainBar = (bar: SketchBar, chords: readonly ChartChord[], pickup: boolean): ChartBar => ({
  chords,
  meter: bar.meter,
  keyChange: bar.keyChange,
  section: bar.section,
  repeatStart: bar.repeatStart,
  repeatEnd: bar.repeatEnd ? 2 : null,
  ending: null,
  segno: bar.segno,
  coda: bar.coda !== null,
  toCoda: bar.toCoda,
  fine: bar.fine,
  jump: bar.jump,
  simile: bar.simile,
  pickup,
  doubleBar: bar.doubleBar,
  span: bar.span,
});
