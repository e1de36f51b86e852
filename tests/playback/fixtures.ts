// Music for tests of the playing: charts read as always, and lines made by hand so that every note is known.
import type { Finger, HandPosition, StringNumber } from '../../src/instrument';
import {
  bpm,
  milli,
  millimetres,
  noteName,
  seconds,
  semitones,
  soundingMidi,
  ticks,
  numberOfBar,
} from '../../src/music';
import { readChart } from '../../src/pipeline/1-chart';
import { makeTimeline, type Slot, type Timeline } from '../../src/pipeline/2-timeline';
import type { LineNote } from '../../src/pipeline/5-line';
import { plainLabels } from '../pipeline/plain-labels';
import { defaultMix, type Music, type PlaybackSettings } from '../../src/playback';

/** A moment of a hand-made line that is not a slot: a skip, a triplet, a note held longer. */
export interface Moment {
  readonly tick: number;
  readonly ticks: number;
  readonly midi?: number;
  readonly open?: boolean;
  readonly string?: number;
  readonly articulation?: Slot['articulation'];
  readonly stop?: number;
  readonly move?: LineNote['move']['kind'];
}

export function timelineOf(chartText: string, choruses = 1): Timeline {
  const { timeline } = makeTimeline(readChart(chartText).chart, { choruses, tempo: null });
  if (!timeline) throw new Error('the chart of a fixture has nothing to play');
  return timeline;
}

function note(index: number, slot: Slot, moment: Moment): LineNote {
  const {
    tick,
    ticks: length,
    midi = 38,
    open = false,
    string = 2,
    articulation,
    stop = 3,
    move = 'stay',
  } = moment;
  const position = 3 as HandPosition;
  return {
    index,
    slot: articulation ? { ...slot, articulation } : slot,
    bar: numberOfBar(slot.bar),
    beat: slot.beat,
    tick: ticks(tick),
    ticks: ticks(length),
    midi: soundingMidi(midi),
    pitch: { name: noteName('D'), octave: 2 },
    harmony: slot.harmony,
    ...plainLabels(),
    reason: 'Made by hand.',
    rules: [],
    placement: {
      id: index,
      string: string as StringNumber,
      stop: semitones(open ? 0 : stop),
      finger: (open ? '0' : '1') satisfies Finger,
      position,
      frame: open ? 'open' : 'closed',
      midi: soundingMidi(midi),
    },
    move: {
      kind: move,
      from: position,
      to: position,
      distance: millimetres(0),
      time: seconds(0.5),
      pressure: 0,
    },
    carry: null,
    cost: milli(0),
    items: [],
  };
}

/** A line with a note on every slot, or on the moments given. */
export function musicOf(chartText: string, moments?: readonly Moment[], choruses = 1): Music {
  const timeline = timelineOf(chartText, choruses);
  const { slots } = timeline;
  const played =
    moments ?? slots.map(({ tick, ticks: length }, i) => ({ tick, ticks: length, midi: 33 + (i % 12) }));
  const notes = played.map((moment, index) => {
    const slot = slots.findLast((one) => one.tick <= moment.tick) ?? slots[0]!;
    return note(index, slot, moment);
  });
  return { timeline, notes };
}

export const usualSettings: PlaybackSettings = {
  tempo: bpm(120),
  swing: 'by tempo',
  countInBars: 0,
  loop: 'form',
  mix: defaultMix,
  seed: 7,
  isLoose: true,
  leans: false,
  bassSound: 'upright',
  click: '2 and 4',
  amount: 'as usual',
  yourTurn: false,
  outputDelay: 0,
  isWide: true,
  hasRoom: true,
};

/** Settings that differ from the usual ones in what a test is about. */
export const settingsWith = (change: Partial<PlaybackSettings>): PlaybackSettings => ({
  ...usualSettings,
  ...change,
});

export const swingBlues = `Title: Test Blues
Key: F
Meter: 4/4
Tempo: 120
Feel: swing

| F7 | Bb7 | F7 | Cm7 F7 |
| Bb7 | Bdim7 | F7 | D7 |
| Gm7 | C7 | F7 D7 | Gm7 C7 |]`;
