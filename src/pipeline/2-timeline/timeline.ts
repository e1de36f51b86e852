// A chart as written to a timeline that can be played: form, harmony, slots.
import { bpm, ticks, type Bpm } from '../../music';
import { problem, type Chart, type Problem } from '../1-chart';
import { unroll, type PlayedForm } from './form';
import { barLength, harmonyOf, keysOf } from './harmony';
import { slotsOf } from './slots';
import type { Timeline, TimelineBar } from './types';

/** What the listener may choose. */
export interface TimelineWish {
  readonly choruses: number;
  /** Null for the chart's own tempo. */
  readonly tempo: Bpm | null;
}

/** A timeline, or null and the reason. */
export interface TimelineResult {
  readonly timeline: Timeline | null;
  readonly problems: readonly Problem[];
}

/** For charts that name no tempo. */
const usualTempo = bpm(120);
const start = { line: 1, column: 1, length: 1 };

/** Bars laid end to end. */
function barsOf(chart: Chart, form: PlayedForm): readonly TimelineBar[] {
  const keys = keysOf(chart);
  const harmony = harmonyOf(chart, form, keys);
  let tick = 0;
  return form.bars.map(({ chartBar, chorus }, index): TimelineBar => {
    const written = chart.bars[chartBar]!;
    const length = barLength(written);
    tick += length;
    return {
      index,
      chartBar,
      chorus,
      section: written.section,
      meter: written.meter,
      key: keys[chartBar]!,
      tick: ticks(tick - length),
      ticks: ticks(length),
      chords: harmony[index]!,
    };
  });
}

/**
 * Unrolls a chart and lays it out in time. The timeline is null when there is nothing to play: no bars, or only N.C.
 * Deterministic; linear in the number of bars.
 */
export function makeTimeline(chart: Chart, { choruses, tempo }: TimelineWish): TimelineResult {
  const form = unroll(chart, choruses);
  const bars = barsOf(chart, form);
  const last = bars.at(-1);
  // The reader has already told of a chart without bars.
  if (last === undefined) return { timeline: null, problems: form.problems };
  const length = ticks(last.tick + last.ticks);
  const { title, feel } = chart.header;
  const slots = slotsOf(bars, feel, form.top, length);
  if (slots.length === 0) {
    return { timeline: null, problems: [...form.problems, problem('nothing-to-play', start)] };
  }
  const timeline: Timeline = {
    title,
    key: bars[0]!.key,
    tempo: tempo ?? chart.header.tempo ?? usualTempo,
    feel,
    choruses: last.chorus + 1,
    bars,
    slots,
    ticks: length,
  };
  return { timeline, problems: form.problems };
}
