// Every chord of the form at its tick, with the key around it, the scale to walk through, and whether it is new.
import {
  chooseScale,
  keyAreas,
  printKey,
  scaleNamed,
  sectionKey,
  ticks,
  barIndex,
  type BarIndex,
  type Chord,
  type Key,
  type Scale,
  type ScaleName,
} from '../../music';
import { barTicks, beatTicks, keyOfChart, type Chart, type ChartBar } from '../1-chart';
import type { PlayedForm } from './form';
import type { TimelineChord, WhyScale } from './types';

/** The key in force in every bar as written: the chart's own, or inferred from its chords. */
export function barKeys(chart: Chart): readonly Key[] {
  let key = keyOfChart(chart);
  return chart.bars.map(({ keyChange }) => {
    key = keyChange ?? key;
    return key;
  });
}

/**
 * The key each bar as written is heard in: the one in force, or the one its section is in where nothing in the chart says
 * so. A key that the chart names for some bars holds for them.
 */
function homesOf(chart: Chart, keys: readonly Key[]): readonly Key[] {
  const homes = [...keys];
  const first = chart.bars.findIndex(({ keyChange }) => keyChange !== null);
  const unnamed = first < 0 ? chart.bars.length : first;
  let from = 0;
  for (let index = 1; index <= unnamed; index += 1) {
    if (index < unnamed && chart.bars[index]!.section === null) continue;
    const chords = chart.bars
      .slice(from, index)
      .flatMap((bar) => bar.chords.flatMap(({ chord }) => (chord === null ? [] : [chord])));
    const isPart = from > 0 || index < chart.bars.length;
    if (isPart) homes.fill(sectionKey(chords, keys[from]!), from, index);
    from = index;
  }
  return homes;
}

/** Ticks a bar really lasts: less than its meter says when it is a pickup. */
export const barLength = (bar: ChartBar): number => bar.chords.reduce((sum, { length }) => sum + length, 0);

/** A chord at its place, before it knows what is around it. */
interface Sounding {
  /** Place of its bar in the form. */
  readonly bar: BarIndex;
  readonly chord: Chord | null;
  /** Asked for by the chart. */
  readonly scale: ScaleName | null;
  /** The key in force, or that of the section. */
  readonly home: Key;
  readonly tick: number;
  readonly length: number;
  readonly beat: number;
}

function soundingsOf(chart: Chart, form: PlayedForm, keys: readonly Key[]): readonly Sounding[] {
  let tick = 0;
  return form.bars.flatMap(({ chartBar }, place) => {
    const written = chart.bars[chartBar]!;
    const start = tick;
    const missing = barTicks(written.meter) - barLength(written);
    tick += barLength(written);
    return written.chords.map(({ chord, scale = null, offset, length }) => ({
      bar: barIndex(place),
      chord,
      scale,
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
  // The chord after a run may be the one that its last five goes to.
  const settle = (home: Key, after: Chord | null): void => {
    const keys = keyAreas([...run.map(({ chord }) => chord), ...(after === null ? [] : [after])], home);
    run.forEach(({ places }, index) => places.forEach((place) => (areas[place] = keys[index]!)));
    run = [];
  };
  sounding.forEach(({ chord, home }, place) => {
    const before = sounding[place - 1];
    if (before !== undefined && before.home !== home) settle(before.home, chord);
    if (chord === null) return;
    const last = run.at(-1);
    if (last?.chord.symbol === chord.symbol) last.places.push(place);
    else run.push({ chord, places: [place] });
  });
  const last = sounding.at(-1);
  if (last !== undefined) settle(last.home, null);
  return areas;
}

/** A scale and why it was taken. */
interface Walked {
  readonly scale: Scale;
  readonly whyScale: WhyScale;
}

/** Scales by chord, key, following chord and wish; most charts ask for few. */
function scaleBook(): (chord: Chord, key: Key, next: Chord | null, wish: ScaleName | null) => Walked {
  const known = new Map<string, Walked>();
  return (chord, key, next, wish) => {
    const id = [chord.symbol, printKey(key), next?.symbol ?? '', wish ?? ''].join(';');
    const before = known.get(id);
    if (before !== undefined) return before;
    const usual = chooseScale(chord, key, next);
    const { name, reason } = wish === null ? usual : ({ name: wish, reason: 'chosen' } as const);
    const walked: Walked = {
      scale: scaleNamed(name, chord),
      whyScale: { name, reason, usual: usual.name, next: next?.symbol ?? null },
    };
    known.set(id, walked);
    return walked;
  };
}

/** The chords of each bar of the form, in order. Linear in the number of chords. */
export function harmonyOf(
  chart: Chart,
  form: PlayedForm,
  keys: readonly Key[],
): readonly (readonly TimelineChord[])[] {
  const sounding = soundingsOf(chart, form, homesOf(chart, keys));
  const next = nextChords(sounding, form.top);
  const areas = areasOf(sounding);
  const walked = scaleBook();
  const bars: TimelineChord[][] = form.bars.map(() => []);
  sounding.forEach(({ bar, chord, scale: wish, tick, length, beat }, index) => {
    const before = sounding[index - 1];
    const key = areas[index]!;
    bars[bar]!.push({
      chord,
      ...(chord === null ? { scale: null } : walked(chord, key, next[index] ?? null, wish)),
      key,
      tick: ticks(tick),
      ticks: ticks(length),
      beat,
      isChange: before === undefined || before.chord?.symbol !== chord?.symbol,
    });
  });
  return bars;
}
