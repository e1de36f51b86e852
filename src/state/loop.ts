// The bars that are played over and over, in playing order from 0.
import type { Timeline } from '../pipeline';
import type { BarRange } from '../playback';

/**
 * What a click on a bar makes of the range: the first click takes the bar, the second on another bar takes all between,
 * the second on the same bar lets go, a third begins anew.
 */
export function extendRange(range: BarRange | null, bar: number): BarRange | null {
  if (range === null || range.from !== range.to) return { from: bar, to: bar };
  if (bar === range.from) return null;
  return { from: Math.min(range.from, bar), to: Math.max(range.from, bar) };
}

/** The range with its ends inside the timeline; null when nothing of it is left. */
export function fitRange(range: BarRange | null, bars: number): BarRange | null {
  if (range === null || range.from >= bars) return null;
  return range.to < bars ? range : { from: range.from, to: bars - 1 };
}

/** First place in playing order of a bar as written, at or after `from`; undefined when it is never played. */
export const firstPlayed = (timeline: Timeline, chartBar: number, from = 0): number | undefined =>
  timeline.bars.find((bar) => bar.index >= from && bar.chartBar === chartBar)?.index;

/** A range moved on or back by its own length; past an end of the form it goes on at the other. */
export function movedRange(range: BarRange, by: 1 | -1, bars: number): BarRange {
  const length = range.to - range.from + 1;
  const from = range.from + by * length;
  if (from >= bars) return { from: 0, to: Math.min(length, bars) - 1 };
  if (from + length > bars) return { from, to: bars - 1 };
  if (from >= 0) return { from, to: from + length - 1 };
  return from + length > 0
    ? { from: 0, to: from + length - 1 }
    : { from: Math.max(0, bars - length), to: bars - 1 };
}
