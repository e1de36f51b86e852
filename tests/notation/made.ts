// Timelines and lines made by hand for the tests of the staff and of the way of the hand. Times and pitches follow from what is
// written here; costs and reasons, which neither shows, are empty.
import {
  defaultInstrument,
  stopInterval,
  type Finger,
  type HandPosition,
  type StringNumber,
} from '../../src/instrument';
import {
  bpm,
  makeChord,
  midiOf,
  milli,
  noteName,
  seconds,
  semitones,
  ticks,
  ticksPerQuarter,
  numberOfBar,
  barIndex,
  type Key,
  type Meter,
  type SpelledPitch,
} from '../../src/music';
import type { Slot, Timeline, TimelineBar, TimelineChord } from '../../src/pipeline/2-timeline';
import type { Line, LineNote, MoveKind, Role } from '../../src/pipeline/5-line';
import { emptyReport } from '../pipeline/empty-report';
import { plainLabels } from '../pipeline/plain-labels';

/** "Bb1" with how it is held; left out, string III, first finger in III, a quarter long, right after the note before. */
export interface MadeNote {
  readonly pitch: string;
  readonly quarters?: number;
  /** Quarters of silence before the note. */
  readonly after?: number;
  readonly string?: number;
  readonly finger?: Finger;
  readonly position?: number;
  readonly kind?: MoveKind;
  /** Where an open string carried the hand from. */
  readonly carriedFrom?: number;
  readonly role?: Role;
}

export interface MadeBar {
  /** Symbols at even distances, "-" for N.C.; null where the chord before goes on. */
  readonly chords: readonly (string | null)[];
  readonly section?: string;
  readonly fifths?: number;
  readonly meter?: Meter;
  /** Quarters, for a bar that is not whole. */
  readonly quarters?: number;
  readonly chorus?: number;
}

/** "F#2" as a pitch in the sounding octave. */
export function pitch(text: string): SpelledPitch {
  return { name: noteName(text.slice(0, -1)), octave: Number(text.at(-1)) };
}

const keyOf = (fifths: number): Key => ({ tonic: noteName('C'), mode: 'major', fifths });
const common: Meter = { beats: 4, unit: 4 };

/** Bars laid end to end. Key and meter go on until a bar says otherwise. */
export function makeTimeline(bars: readonly MadeBar[], fifths = 0, meter: Meter = common): Timeline {
  let at = 0;
  let key = keyOf(fifths);
  let currentMeter = meter;
  let symbol: string | null = null;
  const made = bars.map((bar, index): TimelineBar => {
    if (bar.fifths !== undefined) key = keyOf(bar.fifths);
    currentMeter = bar.meter ?? currentMeter;
    const length = (bar.quarters ?? (currentMeter.beats * 4) / currentMeter.unit) * ticksPerQuarter;
    const share = length / bar.chords.length;
    const chords = bar.chords.map((written, place): TimelineChord => {
      const isChange = written !== null && written !== symbol;
      symbol = written ?? symbol;
      return {
        chord: symbol === null || symbol === '-' ? null : makeChord(symbol),
        scale: null,
        key,
        tick: ticks(at + place * share),
        ticks: ticks(share),
        beat: 1 + (place * share) / ticksPerQuarter,
        isChange,
      };
    });
    const result = {
      index: barIndex(index),
      chartBar: index,
      chorus: bar.chorus ?? 0,
      section: bar.section ?? null,
      meter: currentMeter,
      key,
      tick: ticks(at),
      ticks: ticks(length),
      chords,
    };
    at += length;
    return result;
  });
  return {
    title: 'Made by hand',
    key: keyOf(fifths),
    tempo: bpm(120),
    feel: 'swing',
    choruses: 1 + Math.max(0, ...made.map(({ chorus }) => chorus)),
    bars: made,
    slots: [],
    ticks: ticks(at),
  };
}

/** Notes in a row over a timeline. */
export function makeLine(timeline: Timeline, rows: readonly MadeNote[]): Line {
  let at = 0;
  let hand = (rows[0]?.carriedFrom ?? rows[0]?.position ?? 5) as HandPosition;
  const notes = rows.map((row, index): LineNote => {
    at += (row.after ?? 0) * ticksPerQuarter;
    const start = at;
    const length = (row.quarters ?? 1) * ticksPerQuarter;
    at += length;
    const bar = timeline.bars.findLast((one) => one.tick <= start)!;
    const harmony = bar.chords.findLast((one) => one.tick <= start) ?? bar.chords[0]!;
    const spelled = pitch(row.pitch);
    const finger = row.finger ?? '1';
    const position = (row.position ?? 5) as HandPosition;
    const from = (row.carriedFrom as HandPosition | undefined) ?? hand;
    hand = position;
    const beat = 1 + (start - bar.tick) / ticksPerQuarter;
    const slot: Slot = {
      index,
      bar: bar.index,
      beat,
      tick: ticks(start),
      ticks: ticks(length),
      harmony,
      nextHarmony: harmony,
      isChange: false,
      nextIsChange: false,
      nextIsDownbeat: false,
      strength: beat === 1 ? 3 : 1,
      isTarget: beat === 1,
      sinceTarget: 0,
      untilTarget: 1,
      target: harmony,
      phrase: 'inside',
      restAfter: ticks(0),
    };
    const midi = midiOf(spelled);
    const string = (row.string ?? 3) as StringNumber;
    const open = defaultInstrument.strings[string - 1]!.open;
    return {
      index,
      slot,
      bar: numberOfBar(bar.index),
      beat,
      tick: slot.tick,
      ticks: slot.ticks,
      midi,
      pitch: spelled,
      harmony,
      ...plainLabels(row.role),
      reason: '',
      rules: [],
      placement: {
        id: index,
        string,
        stop: semitones(midi - open),
        finger,
        position,
        frame: finger === '0' ? 'open' : 'closed',
        midi,
      },
      move: {
        kind: row.kind ?? (from === position ? 'stay' : finger === '0' ? 'covered shift' : 'bare shift'),
        from,
        to: position,
        distance: stopInterval(defaultInstrument, from, position),
        time: seconds(0.2),
        pressure: 0,
      },
      carry: row.carriedFrom === undefined ? null : { from, to: position },
      cost: milli(0),
      items: [],
    };
  });
  return {
    notes,
    devices: [],
    cost: milli(0),
    report: emptyReport,
  };
}

/** Quarter notes "F1 A1 C2 ..." with one placement, where only pitches matter. */
export const quarters = (text: string): readonly MadeNote[] => text.split(' ').map((one) => ({ pitch: one }));
