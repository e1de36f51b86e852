// What a player wishes of the line beyond its rules, laid out over the form: how each moment leans.
import weights from '../../../shared/weights/wishes.json' with { type: 'json' };
import type { Ticks, BarIndex } from '../../music';
import type { Feel } from '../1-chart';
import type { HeightWish, LineShape, LineWishes } from './line-wishes';
import type { Lean, TimelineBar } from './types';

/** Steps in which wishes are told apart: moments that lean alike share their costs. */
const grain = 8;
const inGrains = (value: number): number => Math.round(value * grain) / grain;
const within = (value: number, least: number, most: number): number => Math.min(most, Math.max(least, value));

/** A stretch of the form under one label. */
interface Stretch {
  readonly section: string | null;
  readonly from: Ticks;
  to: number;
}

/** The stretch that each bar lies in. A chorus without sections is one. */
function stretchesOf(bars: readonly TimelineBar[]): readonly Stretch[] {
  let current: Stretch | null = null;
  let chorus = -1;
  return bars.map((bar) => {
    if (current === null || bar.section !== null || bar.chorus !== chorus)
      current = { section: bar.section, from: bar.tick, to: bar.tick };
    chorus = bar.chorus;
    current.to = bar.tick + bar.ticks;
    return current;
  });
}

/** Where an arch is highest, as a share of its length: late, as phrases are (common practice, no source). */
const crown = 0.6;

/** Heights of a shape, from 0 to 1, by how much of the section has gone. */
const heightIn: Readonly<Record<LineShape, (gone: number) => number>> = {
  stay: () => 0.4,
  climb: (gone) => gone,
  fall: (gone) => 1 - gone,
  arch: (gone) => (gone < crown ? gone / crown : (1 - gone) / (1 - crown)),
};

/** A height between the two nearest that were drawn; null where none was. */
function drawnAt(heights: readonly HeightWish[], place: number): number | null {
  const before = heights.findLast(({ bar }) => bar <= place);
  const after = heights.find(({ bar }) => bar > place);
  if (!before || !after) return before?.height ?? after?.height ?? null;
  return before.height + ((after.height - before.height) * (place - before.bar)) / (after.bar - before.bar);
}

/** Bars since the chorus began, from 1, for each bar. */
function placesInChorus(bars: readonly TimelineBar[]): readonly number[] {
  let first = 0;
  return bars.map((bar, index) => {
    if (bar.chorus !== bars[index - 1]?.chorus) first = index;
    return index - first + 1;
  });
}

/** How far the build has come in each bar: 0 in the first chorus, 1 in the last. */
const progressOf = (bars: readonly TimelineBar[]): readonly number[] => {
  const last = bars.at(-1)?.chorus ?? 0;
  return bars.map(({ chorus }) => (last === 0 ? 0 : chorus / last));
};

/** How much of the fills wished for a bar has: more from chorus to chorus where the line builds. */
export function fillsIn(bars: readonly TimelineBar[], { build = 0 }: LineWishes): (bar: BarIndex) => number {
  if (build === 0) return () => 1;
  const progress = progressOf(bars);
  // As much more at the end as there is less at the beginning.
  return (bar) => Math.max(0, 1 + build * weights.build.fills * (progress[bar]! - 0.5));
}

/** How a feel leans by itself. */
const feelLeans: Readonly<Record<Feel, Readonly<Record<'bold' | 'leaps', number>>>> = weights.feels;

/** For each bar of a chord that lasts as long as a mode does: how many bars of it have gone; null elsewhere. */
export function modalBars(bars: readonly TimelineBar[]): readonly (number | null)[] {
  const result = bars.map((): number | null => null);
  const symbolOf = ({ chords }: TimelineBar): string | null =>
    chords.length === 1 ? (chords[0]!.chord?.symbol ?? null) : null;
  let first = 0;
  bars.forEach((bar, index) => {
    const symbol = symbolOf(bar);
    if (symbol === null || symbol !== symbolOf(bars[first]!)) first = index;
    const next = bars[index + 1];
    const goesOn = symbol !== null && next !== undefined && symbolOf(next) === symbol;
    const length = index - first + 1;
    if (goesOn || symbol === null || length < weights.modal.bars) return;
    for (let at = first; at <= index; at++) result[at] = at - first;
  });
  return result;
}

/** The way up and down the bass over a mode, by how many of its bars have gone. */
function modalHeight(gone: number): number {
  const { wave, from, to } = weights.modal;
  return from + (to - from) * Math.sin((Math.PI * (gone % wave)) / wave) ** 2;
}

const { low, high } = weights.register;

/** How the moments of each bar lean; undefined where nothing is wished. `tick` lies in the bar. */
export function leansOf(
  bars: readonly TimelineBar[],
  wishes: LineWishes,
  feel: Feel = 'swing',
): (bar: BarIndex, tick: number) => Lean | undefined {
  const { bold = 0, leaps = 0, outside = 0, build = 0, shapes = [], heights = [] } = wishes;
  const own = feelLeans[feel];
  const stretches = stretchesOf(bars);
  const progress = progressOf(bars);
  const places = placesInChorus(bars);
  const modes = modalBars(bars);
  const drawn = [...heights].sort((a, b) => a.bar - b.bar);

  /** The height that is asked for; a mode has one of its own where nobody asks. */
  const heightAt = (index: number, tick: number): number | null => {
    const bar = bars[index]!;
    const share = (tick - bar.tick) / bar.ticks;
    const drawnHeight = drawnAt(drawn, places[index]! + share);
    if (drawnHeight !== null) return drawnHeight;
    const { section, from, to } = stretches[index]!;
    const wish =
      shapes.find((one) => one.section !== null && one.section === section) ??
      shapes.find((one) => one.section === null);
    if (wish) return heightIn[wish.shape]((tick - from) / (to - from));
    const gone = modes[index]!;
    return gone === null ? null : modalHeight(gone + share);
  };
  const boldIn = (index: number): number => {
    const ofMode = modes[index] === null ? 0 : weights.modal.bold;
    return bold + own.bold + ofMode + build * weights.build.bold * (progress[index]! - 0.5);
  };
  const goalAt = (index: number, height: number | null): number | null => {
    const rise = build * weights.build.rise * progress[index]!;
    if (height === null) return build === 0 ? null : Math.round(weights.build.from + rise);
    return Math.round(low + within(height, 0, 1) * (high - low) + rise);
  };
  return (index, tick) => {
    const lean: Lean = {
      bold: inGrains(within(boldIn(index), -1, 1)),
      leaps: inGrains(within(leaps + own.leaps, -1, 1)),
      outside: inGrains(outside),
      goal: goalAt(index, heightAt(index, tick)),
    };
    return Object.values(lean).every((part) => part === 0 || part === null) ? undefined : lean;
  };
}
