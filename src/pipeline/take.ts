// Choosing the path: the best one, or a take drawn by chance that does not repeat itself.
import { derivedSeed, pitchClass, seededRandom, type Random } from '../music';
import type { Timeline } from './2-timeline';
import type { SlotCandidates } from './3-candidates';
import { bestPath, makeRedraw, makeSampler, type Path } from './4-solver';
import { naturalUnit } from './5-line';
import type { PlacedBars } from './kept-bars';
import type { Setting } from './setting';
import type { KeptBar, TakeWish } from './types';

/** Draws of one bar after which a repeated figure is let stand: pins or limits may leave nothing else. */
const mostRedraws = 64;

/** Redraws have seeds of their own, far from those of the parts of a take. */
const redrawPart = 16;

/** The seed that a take is drawn with after bars of it were drawn anew. */
export const redrawSeed = ({ seed, redraws = 0 }: TakeWish): number =>
  redraws === 0 ? seed : derivedSeed(seed, redrawPart + redraws);

/** How freely bars are drawn anew where everything else is the best line: as people play. */
const redrawTemperature = 1;

/** Slots of one bar: first and last index. */
interface BarSlots {
  readonly bar: number;
  readonly first: number;
  readonly last: number;
  readonly chorus: number;
  readonly chartBar: number;
}

/** The bars of the played slots in order. */
function barsOf({ slots, bars }: Timeline): readonly BarSlots[] {
  const found: BarSlots[] = [];
  slots.forEach(({ bar }, index) => {
    const before = found.at(-1);
    if (before?.bar === bar) found[found.length - 1] = { ...before, last: index };
    else {
      const { chorus = -1, chartBar = -1 } = bars[bar] ?? {};
      found.push({ bar, first: index, last: index, chorus, chartBar });
    }
  });
  return found;
}

/** The pitches of a bar, in order. */
const figureOf = (candidates: readonly SlotCandidates[], path: Path, { first, last }: BarSlots): string => {
  const pitches: number[] = [];
  for (let t = first; t <= last; t++) pitches.push(candidates[t]!.placements[path[t]!]!.midi);
  return pitches.join();
};

const keptFigure = ({ notes }: KeptBar): string => notes.map(({ midi }) => midi).join();

/**
 * True for a bar that has no figure of its own to vary: one note, a pedal, root and fifth by its feel, or nothing left to
 * choose because all of it is pinned or kept.
 */
function isConfined(candidates: readonly SlotCandidates[], { first, last }: BarSlots): boolean {
  if (first === last) return true;
  const own = candidates.slice(first, last + 1);
  const isBound = ({ slot, pitches }: SlotCandidates): boolean =>
    slot.confinedTo !== undefined ||
    slot.isPedal === true ||
    new Set(pitches.map((midi) => pitchClass(midi))).size <= 1;
  return own.every(isBound);
}

/** By bar: the bars beside it, and the same bar of the choruses beside. */
function barsBeside(bars: readonly BarSlots[]): (index: number) => readonly number[] {
  const byPlace = new Map<string, number[]>();
  const placeOf = (chorus: number, chartBar: number): string => `${chorus}/${chartBar}`;
  bars.forEach(({ chorus, chartBar }, index) => {
    const place = placeOf(chorus, chartBar);
    byPlace.set(place, [...(byPlace.get(place) ?? []), index]);
  });
  return (index) => {
    const { chorus, chartBar } = bars[index]!;
    const found = [chorus - 1, chorus + 1].flatMap((one) => byPlace.get(placeOf(one, chartBar)) ?? []);
    return [index - 1, index + 1, ...found].filter((at) => at in bars);
  };
}

/**
 * Redraws bars that repeat a bar beside them, or the same bar of the chorus beside, or what they were before, given all
 * that stands around them. Of two that are alike the later one gives way, unless it cannot.
 */
function withoutRepeats(
  { candidates, lattice }: Setting,
  path: Path,
  temperature: number,
  random: Random,
  timeline: Timeline,
  free: ReadonlyMap<number, KeptBar>,
): Path {
  const bars = barsOf(timeline);
  const confined = bars.map((bar) => isConfined(candidates, bar));
  const besides = barsBeside(bars);
  let current = path;
  bars.forEach((bar, index) => {
    if (confined[index]) return;
    const neighbours = besides(index)
      .filter((at) => at < index || confined[at])
      .map((at) => bars[at]!);
    const before = free.get(bar.bar);
    const isRepeat = (figure: string): boolean =>
      (before !== undefined && keptFigure(before) === figure) ||
      neighbours.some((other) => figureOf(candidates, current, other) === figure);
    if (!isRepeat(figureOf(candidates, current, bar))) return;
    const draw = makeRedraw(lattice, current, bar.first, bar.last, temperature, naturalUnit);
    for (let attempt = 0; attempt < mostRedraws; attempt++) {
      current = draw(random) ?? current;
      if (!isRepeat(figureOf(candidates, current, bar))) return;
    }
  });
  return current;
}

/** Bars that are to come out otherwise, drawn given the best line around them. */
function redrawnFree(
  setting: Setting,
  path: Path,
  random: Random,
  timeline: Timeline,
  { free }: PlacedBars,
): Path {
  let current = path;
  for (const { bar, first, last } of barsOf(timeline)) {
    const before = free.get(bar);
    if (!before) continue;
    const own = { bar, first, last, chorus: 0, chartBar: 0 };
    const draw = makeRedraw(setting.lattice, current, first, last, redrawTemperature, naturalUnit);
    for (let attempt = 0; attempt < mostRedraws; attempt++) {
      current = draw(random) ?? current;
      if (figureOf(setting.candidates, current, own) !== keptFigure(before)) break;
    }
  }
  return current;
}

/** Null when there is no path. */
export function choosePath(
  setting: Setting,
  take: TakeWish,
  timeline: Timeline,
  placed: PlacedBars,
): Path | null {
  const seed = redrawSeed(take);
  const random = seededRandom(derivedSeed(seed, 1));
  if (take.temperature === 0) {
    const best = bestPath(setting.lattice)?.path ?? null;
    return best && redrawnFree(setting, best, random, timeline, placed);
  }
  const sampler = makeSampler(setting.lattice, take.temperature, naturalUnit);
  const path = sampler.draw(seededRandom(derivedSeed(seed, 0)));
  return path && withoutRepeats(setting, path, take.temperature, random, timeline, placed.free);
}
