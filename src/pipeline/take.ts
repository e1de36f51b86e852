// Choosing the path: the best one, or a take drawn by chance that does not repeat itself.
import { derivedSeed, seededRandom, type Random } from '../music';
import type { SlotCandidates } from './3-candidates';
import { bestPath, makeSampler, redraw, type Path } from './4-solver';
import { naturalUnit } from './5-line';
import type { Setting } from './setting';
import type { TakeWish } from './types';

/** Draws of one bar after which a repeated figure is let stand: pins or limits may leave nothing else. */
const mostRedraws = 16;

/** Slots of one bar: first and last index. */
interface BarSlots {
  readonly first: number;
  readonly last: number;
  readonly chorus: number;
  readonly chartBar: number;
}

/** The bars of the played slots in order; the return to the top is none of them. */
function barsOf(candidates: readonly SlotCandidates[], chorusOf: (bar: number) => BarPlace): BarSlots[] {
  const bars: BarSlots[] = [];
  candidates.slice(0, -1).forEach(({ slot }, index) => {
    const before = bars.at(-1);
    if (before && candidates[before.first]!.slot.bar === slot.bar) {
      bars[bars.length - 1] = { ...before, last: index };
    } else {
      bars.push({ first: index, last: index, ...chorusOf(slot.bar) });
    }
  });
  return bars;
}

/** Which chorus a bar of the timeline belongs to, and which bar of the chart it is. */
export interface BarPlace {
  readonly chorus: number;
  readonly chartBar: number;
}

/** The pitches of a bar, in order. */
const figureOf = (candidates: readonly SlotCandidates[], path: Path, { first, last }: BarSlots): string => {
  const pitches: number[] = [];
  for (let t = first; t <= last; t++) pitches.push(candidates[t]!.placements[path[t]!]!.midi);
  return pitches.join();
};

/**
 * Redraws bars that repeat the bar before them, or the same bar of the chorus before, given all that stands around them.
 * Bars of one slot are left alone: a pedal is not a repeated figure.
 */
function withoutRepeats(
  setting: Setting,
  path: Path,
  temperature: number,
  random: Random,
  placeOf: (bar: number) => BarPlace,
): Path {
  const { candidates, lattice } = setting;
  const bars = barsOf(candidates, placeOf);
  let current = path;
  bars.forEach((bar, index) => {
    if (bar.last === bar.first) return;
    const neighbours = bars.filter(
      (other, at) =>
        at < index &&
        (at === index - 1 || (other.chartBar === bar.chartBar && other.chorus === bar.chorus - 1)),
    );
    for (let attempt = 0; attempt < mostRedraws; attempt++) {
      const figure = figureOf(candidates, current, bar);
      if (!neighbours.some((other) => figureOf(candidates, current, other) === figure)) return;
      current = redraw(lattice, current, bar.first, bar.last, temperature, naturalUnit, random) ?? current;
    }
  });
  return current;
}

/** Null when there is no path. */
export function choosePath(
  setting: Setting,
  take: TakeWish,
  placeOf: (bar: number) => BarPlace,
): Path | null {
  if (take.temperature === 0) return bestPath(setting.lattice)?.path ?? null;
  const sampler = makeSampler(setting.lattice, take.temperature, naturalUnit);
  const path = sampler.draw(seededRandom(derivedSeed(take.seed, 0)));
  const random = seededRandom(derivedSeed(take.seed, 1));
  return path && withoutRepeats(setting, path, take.temperature, random, placeOf);
}
