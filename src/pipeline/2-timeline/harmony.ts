// Every chord of the form at its tick, with the key around it, the scale to walk through, and whether it is new.
import { keyAreas, scaleFor, ticks, type Chord, type Key, type Scale } from '../../music';
import { barTicks, beatTicks, keyOfChart, type Chart, type ChartBar } from '../1-chart';
import type { PlayedForm } from './form';
import type { TimelineChord } from './types';

/** The key in force in every bar as written: the chart's own, or inferred from its chords. */
export function keysOf(chart: Chart): readonly Key[] {
  let key = keyOfChart(chart);
  return chart.bars.map(({ keyChange }) => {
    key = keyChange ?? key;
    return key;
  });
}

/** Ticks a bar really lasts: less than its meter says when it is a pickup. */
export const barLength = (bar: ChartBar): number => bar.chords.reduce((sum, { length }) => sum + length, 0);

/** A chord at its place, before it knows what is around it. */
interface Sounding {
  /** Place of its bar in the form. */
  readonly bar: number;
  readonly chord: Chord | null;
  /** The key in force. */
  readonly home: Key;
  readonly tick: number;
  readonly length: number;
  readonly beat: number;
}

function soundingsOf(chart: Chart, form: PlayedForm, keys: readonly Key[]): readonly Sounding[] {
  let tick = 0;
  return form.bars.flatMap(({ chartBar }, bar) => {
    const written = chart.bars[chartBar]!;
    const start = tick;
    const missing = barTicks(written.meter) - barLength(written);
    tick += barLength(written);
    return written.chords.map(({ chord, offset, length }) => ({
      bar,
      chord,
      home: keys[chartBar]!,
      tick: start + offset,
      length,
      beat: (offset + missing) / beatTicks(written.meter) + 1,
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

/** The key around each chord: the one in force, or the one a ii-V inside it leads to. */
function areasOf(sounding: readonly Sounding[]): readonly Key[] {
  const areas = sounding.map(({ home }) => home);
  let run: { chord: Chord; places: number[] }[] = [];
  const settle = (home: Key): void => {
    const keys = keyAreas(
      run.map(({ chord }) => chord),
      home,
    );
    run.forEach(({ places }, index) => places.forEach((place) => (areas[place] = keys[index]!)));
    run = [];
  };
  sounding.forEach(({ chord, home }, place) => {
    const before = sounding[place - 1];
    if (before !== undefined && before.home !== home) settle(before.home);
    if (chord === null) return;
    const last = run.at(-1);
    if (last?.chord.symbol === chord.symbol) last.places.push(place);
    else run.push({ chord, places: [place] });
  });
  const last = sounding.at(-1);
  if (last !== undefined) settle(last.home);
  return areas;
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

/** The chords of each bar of the form, in order. Linear in the number of chords. */
export function harmonyOf(
  chart: Chart,
  form: PlayedForm,
  keys: readonly Key[],
): readonly (readonly TimelineChord[])[] {
  const sounding = soundingsOf(chart, form, keys);
  const next = nextChords(sounding, form.top);
  const areas = areasOf(sounding);
  const scale = scaleBook();
  const bars: TimelineChord[][] = form.bars.map(() => []);
  sounding.forEach(({ bar, chord, tick, length, beat }, index) => {
    const before = sounding[index - 1];
    const key = areas[index]!;
    bars[bar]!.push({
      chord,
      scale: chord === null ? null : scale(chord, key, next[index] ?? null),
      key,
      tick: ticks(tick),
      ticks: ticks(length),
      beat,
      isChange: before === undefined || before.chord?.symbol !== chord?.symbol,
    });
  });
  return bars;
}
