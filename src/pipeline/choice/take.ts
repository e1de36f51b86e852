// Choosing the line. A take: many draws from the model, the best of them by the critic, bars that repeat drawn again, and
// then the exact best fingering of its notes. The best line of all: the minimum, with bars that repeat made otherwise at the
// least cost.
import { derivedSeed, seededRandom, type Random } from '../../music';
import { barSlotsOf, barsNear, figureOf, isConfined, isSameFigure, type BarSlots } from './bar-slots';
import type { Timeline } from '../2-timeline';
import { bestOtherwise, bestPath, cacheOf, makeRedraw, makeSampler, type Path } from '../4-solver';
import { criticScore, handWeight, naturalUnit } from '../5-line';
import { bestFingering, steadyFingering } from './fingering';
import type { PlacedBars } from '../problem/kept-bars';
import type { ProblemInstance } from '../problem/instance';
import type { KeptBar, TakeWish } from '../types';

/** Draws that a take is chosen from: so many for each bar that is free, within bounds, so that a few bars still vary. */
const drawsABar = 2;
const leastDraws = 3;
const mostDraws = 32;

/** Draws of one bar that a new one is chosen from. */
const redraws = 3;
/** Draws of one bar after which a repeated figure is let stand. */
const mostRedraws = 16;

/** Redraws have seeds of their own, far from those of the parts of a take, and so have the draws. */
const redrawPart = 16;
const drawPart = 1 << 20;

/** The seed that a take is drawn with after bars of it were drawn anew. */
export const redrawSeed = ({ seed, redraws = 0 }: TakeWish): number =>
  redraws === 0 ? seed : derivedSeed(seed, redrawPart + redraws);

/** How freely bars are drawn anew where everything else is the best line: as people play. */
const redrawTemperature = 1;

const midisOf = ({ candidates }: ProblemInstance, path: Path): Int32Array =>
  path.map((h, t) => candidates[t]!.placements[h]!.midi);

/** What speaks against a line: what the critic counts, and what it asks of the hand. */
export function scoreOf(instance: ProblemInstance, path: Path, timeline: Timeline): number {
  const hand = bestFingering(instance.lattice, path).cost / naturalUnit;
  return criticScore(timeline.slots, midisOf(instance, path)) + handWeight * hand;
}

function leastBy<T>(values: readonly T[], of: (value: T, index: number) => number): T | null {
  let least = Number.POSITIVE_INFINITY;
  let found: T | null = null;
  values.forEach((value, index) => {
    const score = of(value, index);
    if (score >= least) return;
    least = score;
    found = value;
  });
  return found;
}

/** The bars of a line that must come out otherwise than others near them. */
class Repeats {
  readonly bars: readonly BarSlots[];
  readonly #instance: ProblemInstance;
  readonly #confined: readonly boolean[];
  readonly #near: (index: number) => readonly number[];
  readonly #free: ReadonlyMap<number, KeptBar>;

  constructor(instance: ProblemInstance, timeline: Timeline, free: ReadonlyMap<number, KeptBar>) {
    this.bars = barSlotsOf(timeline);
    this.#instance = instance;
    this.#confined = this.bars.map((bar) => isConfined(instance.candidates, bar));
    this.#near = barsNear(this.bars);
    this.#free = free;
  }

  /** What bar `index` must not be: null where it has nothing to vary. Of two that are alike the later gives way, unless it cannot. */
  forbiddenIn(path: Path, index: number): ((figure: readonly number[]) => boolean) | null {
    if (this.#confined[index]) return null;
    const { candidates } = this.#instance;
    const others = this.#near(index)
      .filter((at) => at < index || this.#confined[at])
      .map((at) => figureOf(candidates, path, this.bars[at]!));
    const before = this.#free.get(this.bars[index]!.bar)?.notes.map(({ midi }) => midi);
    return (figure) =>
      (before !== undefined && String(before) === String(figure)) ||
      others.some((other) => isSameFigure(figure, other));
  }
}

/** How a bar is to come out otherwise. */
interface RedrawWish {
  readonly bar: BarSlots;
  readonly temperature: number;
  readonly isForbidden: (figure: readonly number[]) => boolean;
  /** Draws among which the critic chooses; fewer where forbidden ones use up the attempts. */
  readonly enough: number;
}

/** The critic's choice among draws of one bar, given all that stands around it; null where every draw is forbidden. */
function drawnOtherwise(
  instance: ProblemInstance,
  path: Path,
  { bar, temperature, isForbidden, enough }: RedrawWish,
  random: Random,
  { slots }: Timeline,
): Path | null {
  const { lattice, candidates } = instance;
  const draw = makeRedraw(lattice, path, bar.first, bar.last, temperature, naturalUnit);
  const others: Path[] = [];
  for (let attempt = 0; attempt < mostRedraws && others.length < enough; attempt++) {
    const drawn = draw(random);
    if (drawn && !isForbidden(figureOf(candidates, drawn, bar))) others.push(drawn);
  }
  return leastBy(others, (one) => criticScore(slots, midisOf(instance, one)));
}

/** Each bar that repeats another, or what it was before, drawn again given all that stands around it. */
function withoutRepeats(
  instance: ProblemInstance,
  path: Path,
  temperature: number,
  random: Random,
  timeline: Timeline,
  free: ReadonlyMap<number, KeptBar>,
): Path {
  const { lattice, candidates } = instance;
  const repeats = new Repeats(instance, timeline, free);
  let current = path;
  const watch = cacheOf(lattice)?.watch;
  repeats.bars.forEach((bar, index) => {
    watch?.('repeats', (index + 1) / repeats.bars.length);
    const isForbidden = repeats.forbiddenIn(current, index);
    if (!isForbidden?.(figureOf(candidates, current, bar))) return;
    const wish = { bar, temperature, isForbidden, enough: mostRedraws };
    current =
      drawnOtherwise(instance, current, wish, random, timeline) ??
      bestOtherwise(lattice, current, bar.first, bar.last, isForbidden) ??
      current;
  });
  return current;
}

/** The best line with each bar that repeats another made otherwise, at the least cost given what stands around it. */
function bestWithoutRepeats(instance: ProblemInstance, path: Path, timeline: Timeline): Path {
  const repeats = new Repeats(instance, timeline, new Map());
  let current = path;
  repeats.bars.forEach((bar, index) => {
    const isForbidden = repeats.forbiddenIn(current, index);
    if (!isForbidden?.(figureOf(instance.candidates, current, bar))) return;
    current = bestOtherwise(instance.lattice, current, bar.first, bar.last, isForbidden) ?? current;
  });
  return current;
}

/** Bars that are to come out otherwise, drawn given the line around them. */
function redrawnFree(
  instance: ProblemInstance,
  path: Path,
  random: Random,
  timeline: Timeline,
  { free }: PlacedBars,
): Path {
  let current = path;
  for (const bar of barSlotsOf(timeline)) {
    const before = free.get(bar.bar)?.notes.map(({ midi }) => midi);
    if (!before) continue;
    const isForbidden = (figure: readonly number[]): boolean => String(figure) === String(before);
    const wish = { bar, temperature: redrawTemperature, isForbidden, enough: redraws };
    current = drawnOtherwise(instance, current, wish, random, timeline) ?? current;
  }
  return current;
}

/** The notes of a take, held as they were drawn; null when there is no path. */
function drawnNotes(
  instance: ProblemInstance,
  take: TakeWish,
  timeline: Timeline,
  placed: PlacedBars,
): Path | null {
  const seed = redrawSeed(take);
  const sampler = makeSampler(instance.lattice, take.temperature, naturalUnit);
  const free = barSlotsOf(timeline).filter((bar) => !isConfined(instance.candidates, bar)).length;
  const draws = Math.min(mostDraws, Math.max(leastDraws, drawsABar * free));
  const randoms = Array.from({ length: draws }, (_, k) => seededRandom(derivedSeed(seed, drawPart + k)));
  const drawn = sampler.drawMany(randoms).filter((one) => one !== null);
  const watch = cacheOf(instance.lattice)?.watch;
  const chosen = leastBy(drawn, (path, k) => {
    watch?.('choice', (k + 1) / drawn.length);
    return scoreOf(instance, path, timeline);
  });
  const random = seededRandom(derivedSeed(seed, 1));
  return chosen && withoutRepeats(instance, chosen, take.temperature, random, timeline, placed.free);
}

/** The notes of the best line there is; null when there is no path. */
function bestNotes(
  instance: ProblemInstance,
  take: TakeWish,
  timeline: Timeline,
  placed: PlacedBars,
): Path | null {
  const best = bestPath(instance.lattice)?.path ?? null;
  if (!best) return null;
  const varied = take.mayRepeat ? best : bestWithoutRepeats(instance, best, timeline);
  return redrawnFree(instance, varied, seededRandom(derivedSeed(redrawSeed(take), 1)), timeline, placed);
}

/** Null when there is no path. */
export function choosePath(
  instance: ProblemInstance,
  take: TakeWish,
  timeline: Timeline,
  placed: PlacedBars,
): Path | null {
  // Hardly above nought all weights but the best line's are too small for numbers, or too large: then it is that line.
  const drawn = take.temperature === 0 ? null : drawnNotes(instance, take, timeline, placed);
  const notes = drawn ?? bestNotes(instance, take, timeline, placed);
  return notes && steadyFingering(instance.lattice, notes, timeline).path;
}
