// A line of one's own over changes: what its notes are in their chords and what they do together.
import {
  pitchClass,
  spellInContext,
  spellPitch,
  ticks,
  numberOfBar,
  type BarNumber,
  type SoundingMidi,
  type SpelledPitch,
} from '../../music';
import type { Slot, Timeline, TimelineBar, TimelineChord } from '../2-timeline';
import { devicesOf, labelsOf, type DeviceSpan, type NoteLabels, type PlayedNote } from '../5-line';
import type { GivenNote } from './types';

/** A note that was given, with its place in the form and its labels. */
export interface LabelledNote extends NoteLabels {
  readonly index: number;
  /** Bar in playing order, from 1. */
  readonly bar: BarNumber;
  readonly beat: number;
  readonly midi: SoundingMidi;
  readonly pitch: SpelledPitch;
  readonly harmony: TimelineChord;
}

export interface LabelledLine {
  readonly notes: readonly LabelledNote[];
  readonly devices: readonly DeviceSpan[];
}

/** Where a note falls: its bar and the chord that sounds there. */
interface Place {
  readonly bar: TimelineBar;
  readonly harmony: TimelineChord;
}

function placeOf({ bars }: Timeline, tick: number): Place | null {
  const bar = bars.findLast((one) => one.tick <= tick);
  const harmony = bar?.chords.findLast((one) => one.tick <= tick);
  return bar && harmony && tick < bar.tick + bar.ticks ? { bar, harmony } : null;
}

/** Slots as the changes would have them, one for each note. The last note looks at nothing beyond itself. */
function slotsOf(notes: readonly GivenNote[], places: readonly Place[]): readonly Slot[] {
  const isChange = (index: number): boolean =>
    index === 0 || places[index - 1]!.harmony.chord?.symbol !== places[index]!.harmony.chord?.symbol;
  const opensBar = (index: number): boolean => index === 0 || places[index - 1]!.bar !== places[index]!.bar;
  return notes.map(({ tick, ticks: length }, index): Slot => {
    const { bar, harmony } = places[index]!;
    const next = index + 1 < notes.length ? index + 1 : null;
    const end = tick + length;
    return {
      index,
      bar: bar.index,
      beat: (tick - bar.tick) / (bar.ticks / bar.meter.beats) + 1,
      tick,
      ticks: length,
      harmony,
      nextHarmony: next === null ? harmony : places[next]!.harmony,
      isChange: isChange(index),
      nextIsChange: next !== null && isChange(next),
      nextIsDownbeat: next !== null && opensBar(next),
      strength: opensBar(index) ? 3 : 1,
      isTarget: opensBar(index) || isChange(index),
      sinceTarget: 0,
      untilTarget: 0,
      target: harmony,
      phrase: 'inside',
      restAfter: ticks(next === null ? 0 : Math.max(0, notes[next]!.tick - end)),
    };
  });
}

/**
 * Labels of a given line over the changes of a timeline; notes beyond its end are left out.
 *
 * @param notes in order of time, ticks counted from the start of the timeline
 */
export function labelGiven(all: readonly GivenNote[], timeline: Timeline): LabelledLine {
  const within = all.flatMap((note) => {
    const place = placeOf(timeline, note.tick);
    return place ? [{ note, place }] : [];
  });
  const notes = within.map(({ note }) => note);
  const slots = slotsOf(
    notes,
    within.map(({ place }) => place),
  );
  const played = notes.map(({ midi }, index): PlayedNote => ({
    slot: slots[index]!,
    midi,
    placement: { finger: '1' },
    carry: null,
  }));
  const labels = labelsOf(played);
  return {
    devices: devicesOf(played),
    notes: notes.map(({ midi, name }, index): LabelledNote => {
      const { bar, beat, harmony } = slots[index]!;
      const { chord, scale, key } = harmony;
      const called = name ?? spellInContext(pitchClass(midi), { chord, scale, key, next: null });
      return {
        index,
        bar: numberOfBar(bar),
        beat,
        midi,
        pitch: spellPitch(midi, called),
        harmony,
        ...labels[index]!,
      };
    }),
  };
}
