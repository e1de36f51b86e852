// A chart as written to a timeline that can be played: form, harmony, slots.
import { bpm, ticks, barIndex, type Bpm } from '../../music';
import { problem, type Chart, type Feel, type Problem } from '../1-chart';
import { unroll, type PlayedForm } from './form';
import { barLength, harmonyOf, barKeys } from './harmony';
import { barsToTheEnd, goesRound, type EndingWish } from './rhythm-ending';
import { playableRhythm, type KeptPlace, type KeptRhythm } from './rhythm-kept';
import { fillsIn, leansOf } from './leaning';
import type { LineWishes } from './line-wishes';
import { slotsOf } from './slots';
import type { Timeline, TimelineBar } from './types';

/** What the listener may choose. */
export interface TimelineWish {
  readonly choruses: number;
  /** Null for the chart's own tempo. */
  readonly tempo: Bpm | null;
  /** Null, or left out, for the chart's own feel. */
  readonly feel?: Feel | null;
  /** Figures in the rhythm: 0, or left out, for the feel's own, 1 for the most. */
  readonly density?: number;
  /** Decides where the figures are. */
  readonly seed?: number;
  /** How the last chorus ends; left out, it leads back to the top. */
  readonly ending?: EndingWish;
  /** What the player wishes of the line; nothing when left out. */
  readonly line?: LineWishes;
  /** Beats that keep a note of their own whatever the figures. */
  readonly kept?: readonly KeptPlace[];
  /** A form over which nothing is walked is laid out, too. */
  readonly mayBeBare?: boolean;
  /** Which of the bars keep a rhythm that they had. */
  readonly rhythm?: (bars: readonly TimelineBar[], feel: Feel) => KeptRhythm;
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
  const keys = barKeys(chart);
  const harmony = harmonyOf(chart, form, keys);
  let tick = 0;
  return form.bars.map(({ chartBar, chorus }, place): TimelineBar => {
    const written = chart.bars[chartBar]!;
    const length = barLength(written);
    tick += length;
    return {
      index: barIndex(place),
      chartBar,
      chorus,
      section: written.section,
      meter: written.meter,
      key: keys[chartBar]!,
      tick: ticks(tick - length),
      ticks: ticks(length),
      chords: harmony[place]!,
    };
  });
}

/**
 * Unrolls a chart and lays it out in time. The timeline is null when there is nothing to play: no bars, or only N.C.
 * Deterministic; linear in the number of bars.
 */
export function makeTimeline(chart: Chart, wish: TimelineWish): TimelineResult {
  const { density = 0, seed = 0, ending, kept = [], line = {} } = wish;
  const form = unroll(chart, wish.choruses, ending === 'tag');
  const written = barsOf(chart, form);
  const isRound = goesRound(ending);
  const bars = isRound ? written : barsToTheEnd(written);
  const last = bars.at(-1);
  // The reader has already told of a chart without bars.
  if (last === undefined) return { timeline: null, problems: form.problems };
  const length = ticks(last.tick + last.ticks);
  const { title } = chart.header;
  const feel = wish.feel ?? chart.header.feel;
  const rhythm = playableRhythm(wish.rhythm?.(bars, feel) ?? new Map(), bars);
  const fills = fillsIn(bars, line);
  const plain = slotsOf(bars, {
    feel,
    top: form.top,
    density,
    fills,
    seed,
    goesRound: isRound,
    kept,
    rhythm,
  });
  const leanAt = leansOf(bars, line, feel);
  const slots = plain.map((slot) => {
    const lean = leanAt(slot.bar, slot.tick);
    return lean ? { ...slot, lean } : slot;
  });
  if (slots.length === 0 && !wish.mayBeBare) {
    return { timeline: null, problems: [...form.problems, problem('nothing-to-play', start)] };
  }
  const timeline: Timeline = {
    title,
    key: bars[0]!.key,
    tempo: wish.tempo ?? chart.header.tempo ?? usualTempo,
    feel,
    choruses: last.chorus + 1,
    bars,
    slots,
    ticks: length,
  };
  return { timeline, problems: form.problems };
}
