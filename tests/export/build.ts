// Small lines and timelines made by hand, so that exports can be checked against values that are known.
import {
  bpm,
  makeKey,
  milli,
  millimetres,
  noteName,
  parseChord,
  scaleFor,
  seconds,
  semitones,
  soundingMidi,
  spellPitch,
  ticks,
  barIndex,
  barNumber,
  numberOfBar,
  type Chord,
  type Key,
  type Meter,
} from '../../src/music';
import { handPosition, type Finger, type StringNumber } from '../../src/instrument';
import type { Feel, Line, LineNote, Slot, Timeline, TimelineBar, TimelineChord } from '../../src/pipeline';
import { emptyReport } from '../pipeline/empty-report';
import { plainLabels } from '../pipeline/plain-labels';

export interface BarSpec {
  readonly meter?: Meter;
  readonly key?: Key;
  /** For a pickup. */
  readonly ticks?: number;
  readonly section?: string;
  readonly chorus?: number;
  /** Symbol at a tick of the bar; N.C. for none. One C over the whole bar when left out. */
  readonly chords?: readonly (readonly [offset: number, symbol: string])[];
}

export interface NoteSpec {
  /** From the start of the timeline. */
  readonly tick: number;
  readonly ticks: number;
  readonly midi: number;
  /** Note name without octave; decided by the pitch class when left out. */
  readonly name?: string;
  readonly string?: number;
  readonly finger?: Finger;
  readonly position?: number;
  readonly carry?: readonly [from: number, to: number];
  readonly cost?: number;
}

export interface TimelineSpec {
  readonly title?: string;
  readonly tempo?: number;
  readonly feel?: Feel;
  readonly bars: readonly BarSpec[];
}

export const fourFour: Meter = { beats: 4, unit: 4 };
export const cMajor = makeKey(noteName('C'), 'major');
const sharpNames = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
const flatNames = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];
const openStrings = [43, 38, 33, 28];

export function chordOf(symbol: string): Chord {
  const reading = parseChord(symbol);
  if (reading.kind !== 'chord') throw new Error(`not a chord: ${symbol}`);
  return reading.chord;
}

/** Positions called P1, P2 and so on: no naming scheme of the instrument is needed here. Strings as tuned. */
export const naming = {
  positionName: (position: number): string => `P${position}`,
  stringName: (string: number): string => 'GDAE'[string - 1] ?? String(string),
};

export const wholeBar = ({ beats, unit }: Meter): number => (beats * 1920) / unit;

export function makeTestTimeline({
  title = 'Test',
  tempo = 120,
  feel = 'swing',
  bars,
}: TimelineSpec): Timeline {
  let tick = 0;
  let before: string | undefined;
  const made = bars.map((spec, index): TimelineBar => {
    const meter = spec.meter ?? fourFour;
    const key = spec.key ?? cMajor;
    const length = spec.ticks ?? wholeBar(meter);
    const specs = spec.chords ?? [[0, 'C']];
    const chords = specs.map(([offset, symbol], place): TimelineChord => {
      const chord = symbol === 'N.C.' ? null : chordOf(symbol);
      const isChange = symbol !== before;
      before = symbol;
      return {
        chord,
        scale: chord && scaleFor(chord, key, null),
        key,
        tick: ticks(tick + offset),
        ticks: ticks((specs[place + 1]?.[0] ?? length) - offset),
        beat: offset / 480 + 1,
        isChange,
      };
    });
    const bar: TimelineBar = {
      index: barIndex(index),
      chartBar: index,
      chorus: spec.chorus ?? 0,
      section: spec.section ?? null,
      meter,
      key,
      tick: ticks(tick),
      ticks: ticks(length),
      chords,
    };
    tick += length;
    return bar;
  });
  return {
    title,
    key: made[0]?.key ?? cMajor,
    tempo: bpm(tempo),
    feel,
    choruses: (made.at(-1)?.chorus ?? 0) + 1,
    bars: made,
    slots: [],
    ticks: ticks(tick),
  };
}

function makeNote(timeline: Timeline, spec: NoteSpec, index: number): LineNote {
  const bar = timeline.bars.findLast((one) => one.tick <= spec.tick)!;
  const harmony = bar.chords.findLast((chord) => chord.tick <= spec.tick) ?? bar.chords[0]!;
  const midi = soundingMidi(spec.midi);
  const name = spec.name ?? (bar.key.fifths < 0 ? flatNames : sharpNames)[midi % 12]!;
  const openIndex = openStrings.findIndex((open) => open <= spec.midi);
  const string = spec.string ?? (openIndex < 0 ? 4 : openIndex + 1);
  const stop = spec.midi - openStrings[string - 1]!;
  const finger = spec.finger ?? (stop === 0 ? '0' : '1');
  const position = handPosition(spec.position ?? Math.max(1, stop));
  const beat = (spec.tick - bar.tick) / 480 + 1;
  const slot: Slot = {
    index,
    bar: bar.index,
    beat,
    tick: ticks(spec.tick),
    ticks: ticks(spec.ticks),
    harmony,
    nextHarmony: harmony,
    isChange: false,
    nextIsChange: false,
    nextIsDownbeat: false,
    strength: beat === 1 ? 3 : Number.isInteger(beat) ? 1 : 0,
    isTarget: beat === 1,
    sinceTarget: 0,
    untilTarget: 1,
    target: harmony,
    phrase: 'inside',
    restAfter: ticks(0),
  };
  return {
    index,
    slot,
    bar: numberOfBar(bar.index),
    beat,
    tick: slot.tick,
    ticks: slot.ticks,
    midi,
    pitch: spellPitch(midi, noteName(name)),
    harmony,
    ...plainLabels(),
    reason: 'A note.',
    rules: [],
    placement: {
      id: index,
      string: string as StringNumber,
      stop: semitones(stop),
      finger,
      position,
      frame: finger === '0' ? 'open' : finger === 'T' ? 'thumb' : 'closed',
      midi,
    },
    move: {
      kind: index === 0 ? 'start' : 'stay',
      from: position,
      to: position,
      distance: millimetres(0),
      time: seconds(0.5),
      pressure: 0,
    },
    carry: spec.carry ? { from: handPosition(spec.carry[0]), to: handPosition(spec.carry[1]) } : null,
    cost: milli(spec.cost ?? 0),
    items: [],
  };
}

export function makeTestLine(timeline: Timeline, specs: readonly NoteSpec[]): Line {
  const notes = specs.map((spec, index) => makeNote(timeline, spec, index));
  const beats = notes.reduce((sum, note) => sum + note.ticks / 480, 0);
  return {
    notes,
    devices: [],
    cost: milli(notes.reduce((sum, note) => sum + note.cost, 0)),
    report: {
      ...emptyReport,
      beats,
      byRegion: [{ region: 'low', beats, share: beats === 0 ? 0 : 1 }],
      byPosition: [{ position: handPosition(2), numeral: 'P2', beats }],
      bareShifts: 1,
      coveredShifts: 2,
      sameFingerShifts: 1,
      longestStay: { region: 'low', beats, fromBar: barNumber(1) },
    },
  };
}

/** A timeline and a line over it in one go. */
export function makeTest(spec: TimelineSpec, notes: readonly NoteSpec[]): { timeline: Timeline; line: Line } {
  const timeline = makeTestTimeline(spec);
  return { timeline, line: makeTestLine(timeline, notes) };
}
