// Bars and slots for a given line: the same time frame as a chart's, without chords.
import {
  keyNotes,
  makeKey,
  noteName,
  ticks,
  barIndex,
  barIndices,
  type BarIndex,
  type Bpm,
  type Key,
  type Meter,
  type Scale,
} from '../../music';
import { barTicks, beatTicks } from '../1-chart';
import type { Slot, Timeline, TimelineBar, TimelineChord } from '../2-timeline';
import type { GivenNote } from './types';

const plainKey = makeKey(noteName('C'), 'major');
const plainMeter: Meter = { beats: 4, unit: 4 };

export interface GivenFrame {
  readonly key?: Key;
  readonly meter?: Meter;
  readonly title?: string;
  readonly tempo: Bpm;
}

/** Pre: at least one note; notes rise in time and do not overlap. */
export function timelineOf(notes: readonly GivenNote[], frame: GivenFrame): Timeline {
  const { key = plainKey, meter = plainMeter, title = '', tempo } = frame;
  const length = barTicks(meter);
  const last = notes.at(-1)!;
  const count = Math.ceil((last.tick + last.ticks) / length);
  const bars = barIndices(count).map((index): TimelineBar => ({
    index,
    chartBar: index,
    chorus: 0,
    section: null,
    meter,
    key,
    tick: ticks(index * length),
    ticks: ticks(length),
    chords: [],
  }));
  const scale: Scale = { name: `${key.tonic} ${key.mode}`, notes: keyNotes(key) };
  return {
    title,
    key,
    tempo,
    feel: 'straight',
    choruses: 1,
    bars,
    slots: slotsOf(notes, bars, key, scale, meter),
    ticks: ticks(count * length),
  };
}

function slotsOf(
  notes: readonly GivenNote[],
  bars: readonly TimelineBar[],
  key: Key,
  scale: Scale,
  meter: Meter,
): readonly Slot[] {
  const length = barTicks(meter);
  const barOf = (note: GivenNote): BarIndex => barIndex(Math.floor(note.tick / length));
  const harmonies = bars.map((bar): TimelineChord => ({
    chord: null,
    scale,
    key,
    tick: bar.tick,
    ticks: bar.ticks,
    beat: 1,
    isChange: false,
  }));
  return notes.map((note, index): Slot => {
    const after = notes[index + 1];
    const offset = note.tick % length;
    const beat = offset / beatTicks(meter) + 1;
    return {
      index,
      bar: barOf(note),
      beat,
      tick: note.tick,
      ticks: note.ticks,
      harmony: harmonies[barOf(note)]!,
      nextHarmony: harmonies[barOf(after ?? note)]!,
      isChange: false,
      nextIsChange: false,
      nextIsDownbeat: after !== undefined && after.tick % length === 0,
      strength: offset === 0 ? 3 : Number.isInteger(beat) ? 1 : 0,
      isTarget: offset === 0,
      sinceTarget: 0,
      untilTarget: 0,
      target: harmonies[barOf(note)]!,
      phrase: 'inside',
      restAfter: ticks(after ? after.tick - note.tick - note.ticks : 0),
    };
  });
}
