// A chart as written to a timeline that can be played: form, keys, chords with their scales, slots.
import { bpm, inferKey, scaleFor, ticks, type Bpm, type Chord, type Key, type Scale } from '../../music';
import { barTicks, beatTicks, problem, type Chart, type ChartBar, type Problem } from '../1-chart';
import { unroll, type PlayedForm } from './form';
import { slotsOf } from './slots';
import type { Timeline, TimelineBar, TimelineChord } from './types';

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

const usualTempo = bpm(120);

/** The key in force in every bar as written. */
export function keysOf(chart: Chart): readonly Key[] {
  const chords = chart.bars.flatMap((bar) =>
    bar.chords.flatMap(({ chord }) => (chord === null ? [] : [chord])),
  );
  let key = chart.header.key ?? inferKey(chords);
  return chart.bars.map(({ keyChange }) => {
    key = keyChange ?? key;
    return key;
  });
}

export const barLength = (bar: ChartBar): number => bar.chords.reduce((sum, { length }) => sum + length, 0);

/** A chord at its place, before it knows what follows. */
interface Sounding {
  readonly bar: number;
  readonly chord: Chord | null;
  readonly key: Key;
  readonly tick: number;
  readonly ticks: number;
  readonly offset: number;
}

function soundings(chart: Chart, form: PlayedForm): readonly (readonly Sounding[])[] {
  const keys = keysOf(chart);
  let tick = 0;
  return form.bars.map(({ chartBar }, bar) => {
    const written = chart.bars[chartBar]!;
    const start = tick;
    tick += barLength(written);
    return written.chords.map(({ chord, offset, length }) => ({
      bar,
      chord,
      key: keys[chartBar]!,
      tick: start + offset,
      ticks: length,
      offset,
    }));
  });
}

/** For each sounding chord the next other chord, round the form; null when there is none. */
function nextChords(sounding: readonly Sounding[], top: number): readonly (Chord | null)[] {
  const next: (Chord | null)[] = sounding.map(() => null);
  let after: Chord | null = null;
  let beyond: Chord | null = null;
  const goBack = (index: number): void => {
    const { chord } = sounding[index]!;
    if (chord === null) return;
    next[index] = after?.symbol === chord.symbol ? beyond : after;
    if (after?.symbol === chord.symbol) return;
    beyond = after;
    after = chord;
  };
  // Once through the form so that its end knows its beginning, then through the whole.
  for (let index = sounding.length - 1; index >= 0 && sounding[index]!.bar >= top; index -= 1) goBack(index);
  for (let index = sounding.length - 1; index >= 0; index -= 1) goBack(index);
  return next;
}

/** Scales by chord, key and following chord; most charts ask for few. */
function scaleBook(): (chord: Chord, key: Key, next: Chord | null) => Scale {
  const known = new Map<string, Scale>();
  return (chord, key, next) => {
    const name = `${chord.symbol} ${key.tonic} ${key.mode} ${next?.symbol ?? ''}`;
    const scale = known.get(name) ?? scaleFor(chord, key, next);
    known.set(name, scale);
    return scale;
  };
}

function timelineChords(chart: Chart, form: PlayedForm): readonly (readonly TimelineChord[])[] {
  const byBar = soundings(chart, form);
  const flat = byBar.flat();
  const next = nextChords(flat, form.top);
  const scale = scaleBook();
  let place = 0;
  let before: Chord | null | undefined;
  return byBar.map((bar, index) => {
    const written = chart.bars[form.bars[index]!.chartBar]!;
    const missing = barTicks(written.meter) - barLength(written);
    return bar.map(({ chord, key, tick, ticks: length, offset }): TimelineChord => {
      const isChange = before === undefined || before?.symbol !== chord?.symbol;
      before = chord;
      const following = next[place] ?? null;
      place += 1;
      return {
        chord,
        scale: chord === null ? null : scale(chord, key, following),
        key,
        tick: ticks(tick),
        ticks: ticks(length),
        beat: (offset + missing) / beatTicks(written.meter) + 1,
        isChange,
      };
    });
  });
}

function timelineBars(chart: Chart, form: PlayedForm): readonly TimelineBar[] {
  const chords = timelineChords(chart, form);
  const keys = keysOf(chart);
  let tick = 0;
  return form.bars.map(({ chartBar, chorus }, index): TimelineBar => {
    const written = chart.bars[chartBar]!;
    const start = tick;
    tick += barLength(written);
    return {
      index,
      chartBar,
      chorus,
      section: written.section,
      meter: written.meter,
      key: keys[chartBar]!,
      tick: ticks(start),
      ticks: ticks(tick - start),
      chords: chords[index]!,
    };
  });
}

/**
 * Unrolls a chart and lays it out in time. The timeline is null when there is nothing to play: no bars, or only N.C.
 * Deterministic; linear in the number of bars played.
 */
export function makeTimeline(chart: Chart, { choruses, tempo }: TimelineWish): TimelineResult {
  const form = unroll(chart, choruses);
  const bars = timelineBars(chart, form);
  const last = bars.at(-1);
  const length = last === undefined ? 0 : last.tick + last.ticks;
  const slots = slotsOf(bars, chart.header.feel, form.top, length);
  if (slots.length === 0) {
    const nothing = problem('nothing-to-play', { line: 1, column: 1, length: 1 });
    return { timeline: null, problems: chart.bars.length === 0 ? [] : [...form.problems, nothing] };
  }
  const timeline: Timeline = {
    title: chart.header.title,
    key: bars[0]!.key,
    tempo: tempo ?? chart.header.tempo ?? usualTempo,
    feel: chart.header.feel,
    choruses: (last?.chorus ?? 0) + 1,
    bars,
    slots,
    ticks: ticks(length),
  };
  return { timeline, problems: form.problems };
}
