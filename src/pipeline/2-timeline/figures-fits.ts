// Which figures fit into a plain rhythm where, and which of them are drawn.
import { derivedSeed, seededRandom, ticksPerQuarter, type BarIndex } from '../../music';
import { beatGroups, beatTicks, type Feel } from '../1-chart';
import { chanceOf, type Figure, type FigurePlace } from './figures-chances';
import { isBegunBefore, type KeptPlace, type KeptRhythm } from './rhythm-kept';
import { strengthIn, type Stop } from './rhythm-stops';
import type { Slot, TimelineBar } from './types';

export interface FigureWish {
  /** From 0, none, to 1. */
  readonly density: number;
  /** How much of that a bar has, by its index; all of it when left out. */
  readonly fills?: (bar: BarIndex) => number;
  readonly seed: number;
  /** Whether the last bar leads back to the first: then it may lead on with a figure. */
  readonly goesRound: boolean;
  /** Places that must keep a note of their own. */
  readonly kept: readonly KeptPlace[];
  /** Bars whose rhythm stays as it was. */
  readonly rhythm?: KeptRhythm;
}

/** A figure that fits: the stop it begins with, the last one it takes in. */
export interface Fit {
  readonly figure: Figure;
  readonly stop: number;
  readonly last: number;
  readonly chance: number;
}

const eighth = ticksPerQuarter / 2;
/** Groups of a bar are counted apart in the seeds. */
const mostGroups = 16;

const placeBefore = (strength: Slot['strength']): FigurePlace =>
  strength === 3 ? 'before the downbeat' : strength === 2 ? 'before a strong beat' : 'before a weak beat';
const placeOn = (strength: Slot['strength']): FigurePlace =>
  strength === 3 ? 'on the downbeat' : strength === 2 ? 'on a strong beat' : 'on a weak beat';

/** The last two bars before a section or chorus opens, or before the end. */
function isTurn(bars: readonly TimelineBar[], index: number): boolean {
  return [1, 2].some((ahead) => {
    const bar = bars[index + ahead];
    return bar === undefined || bar.section !== null || bar.chorus !== bars[index]!.chorus;
  });
}

/** Tells what fits where. */
class Fitting {
  constructor(
    private readonly stops: readonly Stop[],
    private readonly bars: readonly TimelineBar[],
    private readonly feel: Feel,
    private readonly wish: FigureWish,
  ) {}

  /** The stops of one group of beats: from `first` up to, not including, `past`. */
  group(first: number, past: number): readonly Fit[] {
    const fits: Fit[] = [];
    const add = (figure: Figure, place: FigurePlace, stop: number, last = stop): void => {
      const chance = chanceOf(this.feel, figure, place);
      if (chance > 0) fits.push({ figure, stop, last, chance });
    };
    for (let index = first; index < past; index += 1) this.single(index, add);
    if (past - first > 1 && this.canHold(first, past)) {
      add('held', placeOn(this.stops[first]!.strength), first, past - 1);
    }
    return fits;
  }

  private single(index: number, add: (figure: Figure, place: FigurePlace, stop: number) => void): void {
    const stop = this.stops[index]!;
    const bar = this.bars[stop.bar]!;
    const isLastOfBar = stop.end === bar.tick + bar.ticks;
    const into = isLastOfBar ? 3 : strengthIn(bar, stop.end);
    if (!this.leadsOn(index)) return;
    const length = stop.end - stop.tick;
    if (stop.strength > 0 && into > 0 && length >= 2 * eighth) {
      add('skip', placeBefore(into), index);
      add('drop', placeOn(stop.strength), index);
      const isOneBeat = length === ticksPerQuarter && beatTicks(bar.meter) === ticksPerQuarter;
      if (isOneBeat && stop.strength < 3) add('triplet', placeOn(stop.strength), index);
    }
    if (!isLastOfBar) return;
    if (length >= 2 * beatTicks(bar.meter)) add('fill', this.fillPlace(index), index);
    if (this.canAnticipate(index)) add('anticipation', 'before the downbeat', index);
  }

  /** The next stop follows without a rest. */
  private leadsOn(index: number): boolean {
    const next = this.stops[index + 1];
    return next === undefined ? this.wish.goesRound : next.tick === this.stops[index]!.end;
  }

  private fillPlace(index: number): FigurePlace {
    const { bar, harmony } = this.stops[index]!;
    if (isTurn(this.bars, bar)) return 'before a turn';
    const next = this.stops[index + 1];
    const isNew = next === undefined || next.harmony.chord?.symbol !== harmony.chord?.symbol;
    return isNew ? 'before a change' : 'elsewhere';
  }

  private canAnticipate(index: number): boolean {
    const stop = this.stops[index]!;
    const next = this.stops[index + 1];
    if (next === undefined || next.strength !== 3 || this.isKept(next)) return false;
    if (this.wish.rhythm?.has(next.bar)) return false;
    const length = stop.end - stop.tick;
    return length === eighth ? !stop.isChange && !this.isKept(stop) : length > eighth;
  }

  /** All of a group on one note: one chord, nothing asked of the beats that are left out. */
  private canHold(first: number, past: number): boolean {
    const inner = this.stops.slice(first + 1, past);
    const { harmony } = this.stops[first]!;
    return inner.every((stop) => stop.harmony === harmony && !this.isKept(stop));
  }

  private isKept({ bar, beat }: Stop): boolean {
    return this.wish.kept.some((place) => place.bar === bar && Math.abs(place.beat - beat) < 1e-6);
  }
}

/** Stops by bar: the index of the first one of each bar, and past the last. */
function firstStops(stops: readonly Stop[], bars: readonly TimelineBar[]): readonly number[] {
  const starts: number[] = [];
  let at = 0;
  for (const bar of bars) {
    while (at < stops.length && stops[at]!.bar < bar.index) at += 1;
    starts.push(at);
  }
  return [...starts, stops.length];
}

/** What fits into each group of beats of the whole, group by group in order; groups where nothing fits are left out. */
export function fitsByGroup(
  stops: readonly Stop[],
  bars: readonly TimelineBar[],
  feel: Feel,
  wish: FigureWish,
): readonly { readonly seed: number; readonly bar: BarIndex; readonly fits: readonly Fit[] }[] {
  const fitting = new Fitting(stops, bars, feel, wish);
  const starts = firstStops(stops, bars);
  const rhythm: KeptRhythm = wish.rhythm ?? new Map();
  return bars.flatMap((bar) => {
    const { index } = bar;
    if (rhythm.has(index)) return [];
    const isBegun = isBegunBefore(rhythm, bars, index);
    let at = starts[index]!;
    let beats = 0;
    return beatGroups(bar.meter).flatMap((size, group) => {
      beats += size;
      const first = at;
      while (at < starts[index + 1]! && stops[at]!.beat < beats + 1) at += 1;
      const fits = isBegun && group === 0 ? [] : fitting.group(first, at);
      return fits.length === 0
        ? []
        : [{ seed: derivedSeed(wish.seed, bar.index * mostGroups + group), bar: index, fits }];
    });
  });
}

/**
 * The figures of the whole, by the stop they begin with.
 * @param densityIn that of a figure in a bar
 */
export function chooseFigures(
  groups: ReturnType<typeof fitsByGroup>,
  densityIn: (bar: BarIndex, figure: Figure) => number,
): ReadonlyMap<number, Fit> {
  const chosen = new Map<number, Fit>();
  for (const { seed, bar, fits } of groups) {
    const random = seededRandom(seed);
    const sum = fits.reduce((total, { chance }) => total + chance, 0);
    const whether = random();
    let left = random() * sum;
    const fit = fits.find(({ chance }) => (left -= chance) < 0) ?? fits.at(-1)!;
    if (whether < densityIn(bar, fit.figure) * sum) chosen.set(fit.stop, fit);
  }
  return chosen;
}
