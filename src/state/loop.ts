// The bars that are played over and over, in playing order from 0.
import { barIndex, type BarIndex } from '../music';
import type { Timeline } from '../pipeline';
import type { BarRange } from '../playback';

/** All bars from one range to a bar. */
export const rangeWith = ({ from, to }: BarRange, bar: BarIndex): BarRange => ({
  from: bar < from ? bar : from,
  to: bar > to ? bar : to,
});

/**
 * What a click on a bar makes of the range: the first click takes the bar, the second on another bar takes all between,
 * the second on the same bar lets go, a third begins anew.
 */
export function extendRange(range: BarRange | null, bar: BarIndex): BarRange | null {
  if (range === null || range.from !== range.to) return { from: bar, to: bar };
  if (bar === range.from) return null;
  return rangeWith(range, bar);
}

/** The range with its ends inside the timeline; null when nothing of it is left. */
export function fitRange(range: BarRange | null, bars: number): BarRange | null {
  if (range === null || range.from >= bars) return null;
  return range.to < bars ? range : { from: range.from, to: barIndex(bars - 1) };
}

/** First place in playing order of a bar as written, at or after `from`; undefined when it is never played. */
export const firstPlayed = (timeline: Timeline, chartBar: number, from = 0): BarIndex | undefined =>
  timeline.bars.find((bar) => bar.index >= from && bar.chartBar === chartBar)?.index;

/** A range moved on or back by its own length; past an end of the form it goes on at the other. */
export function movedRange(range: BarRange, by: 1 | -1, bars: number): BarRange {
  const length = range.to - range.from + 1;
  const from = range.from + by * length;
  const between = (first: number, last: number): BarRange => ({ from: barIndex(first), to: barIndex(last) });
  if (from >= bars) return between(0, Math.min(length, bars) - 1);
  if (from + length > bars) return between(from, bars - 1);
  if (from >= 0) return between(from, from + length - 1);
  return from + length > 0 ? between(0, from + length - 1) : between(Math.max(0, bars - length), bars - 1);
}
