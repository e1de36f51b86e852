// Notes over a chart's own slots, for asking what they do together.
import { soundingMidi } from '../../../../src/music';
import { makeTimeline, readChart, type PlayedNote, type Slot, type Timeline } from '../../../../src/pipeline';

export function timelineOf(chartText: string): Timeline {
  const { timeline } = makeTimeline(readChart(chartText).chart, { choruses: 1, tempo: null });
  if (!timeline) throw new Error(`nothing to play in ${chartText}`);
  return timeline;
}

export const stopped = (slot: Slot, midi: number): PlayedNote => ({
  slot,
  midi: soundingMidi(midi),
  placement: { finger: '1' },
  carry: null,
});

/** Stopped notes on the first slots of a timeline. */
export const played = ({ slots }: Timeline, pitches: readonly number[]): readonly PlayedNote[] =>
  pitches.map((midi, index) => stopped(slots[index]!, midi));
