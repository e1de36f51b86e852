// A line made by hand for the tests of the map, the beat panel and the hand report: four bars around the neck block with
// two carries. Every pitch follows from string and stop; the moves are written out, not computed.
import {
  defaultInstrument,
  stopInterval,
  type Finger,
  type Frame,
  type HandPosition,
  type Placement,
  type StringNumber,
} from '../../../src/instrument';
import {
  bpm,
  milli,
  millimetres,
  noteName,
  pitchClassOf,
  seconds,
  semitones,
  soundingMidi,
  spellPitch,
  ticks,
  ticksPerQuarter,
  barNumber,
  numberOfBar,
  barIndex,
  type Chord,
  type ChordFamily,
  type Key,
} from '../../../src/music';
import type { Slot, Timeline, TimelineBar, TimelineChord } from '../../../src/pipeline/2-timeline';
import type { HandReport, Line, LineNote, Move, MoveKind, Role } from '../../../src/pipeline/5-line';
import { plainLabels } from '../../pipeline/plain-labels';

type Row = readonly [
  note: string,
  string: number,
  stop: number,
  finger: Finger,
  position: number,
  kind: MoveKind,
  role: Role,
];

const chordRows: readonly (readonly [symbol: string, root: string, family: ChordFamily])[] = [
  ['Bb7', 'Bb', 'dominant'],
  ['Bdim7', 'B', 'diminished'],
  ['F7', 'F', 'dominant'],
  ['D7', 'D', 'dominant'],
];

const rows: readonly Row[] = [
  ['Bb', 4, 6, '1', 6, 'start', 'root'],
  ['C', 4, 8, '4', 6, 'stay', 'scale step'],
  ['D', 2, 0, '0', 6, 'stay', 'third'],
  ['F', 3, 8, '4', 6, 'stay', 'fifth'],
  ['B', 3, 14, '2', 13, 'bare shift', 'root'],
  ['Ab', 3, 11, '4', 9, 'bare shift', 'chord tone'],
  ['D', 2, 0, '0', 7, 'covered shift', 'open string passing'],
  ['E', 3, 7, '1', 7, 'stay', 'approach from below'],
  ['F', 3, 8, '2', 7, 'stay', 'root'],
  ['A', 2, 7, '1', 7, 'stay', 'third'],
  ['C', 2, 10, '4', 7, 'stay', 'fifth'],
  ['Eb', 1, 8, '2', 7, 'stay', 'seventh'],
  ['D', 1, 7, '1', 7, 'stay', 'root'],
  ['G', 1, 0, '0', 4, 'covered shift', 'open string passing'],
  ['F#', 2, 4, '1', 4, 'stay', 'third'],
  ['G', 2, 5, '2', 4, 'stay', 'approach from above'],
];

const key: Key = { tonic: noteName('F'), mode: 'major', fifths: -1 };
const tempo = bpm(132);
const beatsInBar = 4;

function chordOf([symbol, root, family]: (typeof chordRows)[number]): Chord {
  const tonic = noteName(root);
  return {
    symbol,
    typed: symbol,
    root: tonic,
    bass: null,
    family,
    tones: [
      {
        interval: '1P' as Chord['tones'][number]['interval'],
        degree: 1,
        note: tonic,
        pitchClass: pitchClassOf(tonic),
      },
    ],
    colours: [],
    isAltered: false,
  };
}

const harmonies: readonly TimelineChord[] = chordRows.map((row, bar) => ({
  chord: chordOf(row),
  scale: null,
  key,
  tick: ticks(bar * beatsInBar * ticksPerQuarter),
  ticks: ticks(beatsInBar * ticksPerQuarter),
  beat: 1,
  isChange: true,
}));

const bars: readonly TimelineBar[] = harmonies.map((harmony, index) => ({
  index: barIndex(index),
  chartBar: index,
  chorus: 0,
  section: null,
  meter: { beats: beatsInBar, unit: 4 },
  key,
  tick: harmony.tick,
  ticks: harmony.ticks,
  chords: [harmony],
}));

function slotAt(index: number): Slot {
  const bar = Math.floor(index / beatsInBar);
  const beat = (index % beatsInBar) + 1;
  return {
    index,
    bar: barIndex(bar),
    beat,
    tick: ticks(index * ticksPerQuarter),
    ticks: ticks(ticksPerQuarter),
    harmony: harmonies[bar]!,
    nextHarmony: harmonies[(bar + (beat === beatsInBar ? 1 : 0)) % harmonies.length]!,
    isChange: beat === 1,
    nextIsChange: beat === beatsInBar,
    nextIsDownbeat: beat === beatsInBar,
    strength: beat === 1 ? 3 : beat === 3 ? 2 : 1,
    isTarget: beat === 1,
    sinceTarget: 0,
    untilTarget: beatsInBar + 1 - beat,
    target: harmonies[(bar + 1) % harmonies.length]!,
    phrase: 'inside',
    restAfter: ticks(0),
  };
}

/** Frame of a row: behind the octave the thumb's, over open strings none, else what the finger's reach asks for. */
function frameOf([, , stop, finger, position]: Row): Frame {
  if (finger === '0') return 'open';
  if (position >= 12) return 'thumb';
  return stop - position > 2 ? 'extended' : 'closed';
}

function placementOf(row: Row, id: number): Placement {
  const [, string, stop, finger, position] = row;
  const open = defaultInstrument.strings[string - 1]!.open;
  return {
    id,
    string: string as StringNumber,
    stop: semitones(stop),
    finger,
    position: position as HandPosition,
    frame: frameOf(row),
    midi: soundingMidi(open + stop),
  };
}

function moveOf(kind: MoveKind, from: HandPosition, to: HandPosition): Move {
  const beat = 60 / tempo;
  const time = seconds(kind === 'covered shift' ? beat : beat * 0.33);
  return {
    kind,
    from,
    to,
    distance: stopInterval(defaultInstrument, from, to),
    time,
    pressure: from === to ? 0 : kind === 'covered shift' ? 0.4 : 1.2,
  };
}

function noteOf(row: Row, index: number, before: LineNote | undefined): LineNote {
  const slot = slotAt(index);
  const placement = placementOf(row, index);
  const [name, , , , , kind, role] = row;
  const from = before?.placement.position ?? placement.position;
  const move = moveOf(kind, from, placement.position);
  const items = [
    { feature: 'degree', amount: milli(-1280 + index) },
    { feature: 'register', amount: milli(240) },
    { feature: 'shift', amount: milli(move.pressure * 500) },
  ];
  return {
    index,
    slot,
    bar: numberOfBar(slot.bar),
    beat: slot.beat,
    tick: slot.tick,
    ticks: slot.ticks,
    midi: placement.midi,
    pitch: spellPitch(placement.midi, noteName(name)),
    harmony: slot.harmony,
    ...plainLabels(role),
    reason: `${name} is there for its place in ${slot.harmony.chord?.symbol ?? 'N.C.'}.`,
    rules: [],
    placement,
    move,
    carry: kind === 'covered shift' ? { from, to: placement.position } : null,
    cost: milli(items.reduce((sum, item) => sum + item.amount, 0)),
    items,
  };
}

const notes: LineNote[] = [];
rows.forEach((row, index) => notes.push(noteOf(row, index, notes[index - 1])));

/** A report to show: figures chosen to be told apart, shares that sum to 1. */
export const handReport: HandReport = {
  beats: 16,
  byRegion: [
    { region: 'low', beats: 1, share: 1 / 16 },
    { region: 'middle', beats: 5, share: 5 / 16 },
    { region: 'neck block', beats: 6, share: 6 / 16 },
    { region: 'octave', beats: 1, share: 1 / 16 },
    { region: 'open', beats: 3, share: 3 / 16 },
  ],
  byPosition: [
    { position: 2 as HandPosition, numeral: 'I', beats: 1 },
    { position: 4 as HandPosition, numeral: 'II½', beats: 2 },
    { position: 6 as HandPosition, numeral: 'III½', beats: 3 },
    { position: 7 as HandPosition, numeral: 'IV', beats: 6 },
    { position: 13 as HandPosition, numeral: 'thumb 11', beats: 1 },
  ],
  bareShifts: 2,
  coveredShifts: 4,
  pivots: 5,
  stretches: 7,
  sameFingerShifts: 8,
  byArm: [
    { zone: 'behind the neck', beats: 6, share: 0.5 },
    { zone: 'over the shoulder', beats: 6, share: 0.5 },
  ],
  bareDistance: { total: millimetres(1240), mean: millimetres(620), longest: millimetres(900) },
  coveredDistance: { total: millimetres(0), mean: millimetres(0), longest: millimetres(0) },
  holds: { relaxed: 3, comfortable: 2, practical: 7 },
  crossings: 9,
  heelJumps: 10,
  longestStay: { region: 'neck block', beats: 6, fromBar: barNumber(2) },
  hardestMove: {
    bar: barNumber(2),
    beat: 2,
    semitones: -4,
    bits: 3.96,
    needed: seconds(0.24),
    move: notes[5]!.move,
  },
};

export const madeLine: Line = {
  notes,
  devices: [],
  cost: milli(notes.reduce((sum, note) => sum + note.cost, 0)),
  report: handReport,
};

export const madeTimeline: Timeline = {
  title: 'Made by hand',
  key,
  tempo,
  feel: 'swing',
  choruses: 1,
  bars,
  slots: notes.map((note) => note.slot),
  ticks: ticks(16 * ticksPerQuarter),
};

export { defaultInstrument };
