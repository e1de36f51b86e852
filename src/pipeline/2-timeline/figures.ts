// Figures: skips, drops, triplets, anticipations, fills and held notes, put into the plain rhythm before any pitch.
//
// Pre: the stops of a plain rhythm in order. Post: still in order and without overlap; every place where a chord is new
// keeps its stop, unless an anticipation plays it an eighth early; the first beat of a bar is moved by nothing else.
//
// Every group of beats (half a bar of four, a bar of three) takes at most one figure. Its chance is the sum of the chances
// of what fits there, times the density, so the number of figures grows in proportion to the density; and as the draw that
// decides whether is not the draw that decides which, a higher density adds figures and changes none.
import { ticksPerQuarter } from '../../music';
import { beatTicks, type Feel } from '../1-chart';
import { chooseFigures, fitsByGroup, type FigureWish, type Fit } from './figures-fits';
import { beatAt, strengthIn, type Stop } from './rhythm-stops';
import type { TimelineBar } from './types';

const eighth = ticksPerQuarter / 2;
const third = ticksPerQuarter / 3;

const cutOff = (
  stop: Stop,
  bar: TimelineBar,
  from: number,
  to: number,
  kind: Stop['articulation'],
): Stop => ({
  ...stop,
  bar: bar.index,
  beat: beatAt(bar, from),
  tick: from,
  end: to,
  isChange: false,
  strength: kind === 'plain' ? strengthIn(bar, from) : 0,
  articulation: kind,
});

/** A downbeat that sounds from the last eighth of the bar before. */
function anEighthEarly(stop: Stop, before: TimelineBar): Stop {
  const tick = stop.tick - eighth;
  const beat = beatAt(before, tick);
  return { ...stop, bar: before.index, beat, tick, strength: 0, articulation: 'anticipation' };
}

/** A stop with its figure, other than an anticipation of the next one. */
function played(stop: Stop, bar: TimelineBar, fit: Fit, lastEnd: number): readonly Stop[] {
  const { end } = stop;
  switch (fit.figure) {
    case 'skip':
    case 'drop': {
      const kind = fit.figure === 'skip' ? 'ghost' : 'drop';
      return [{ ...stop, end: end - eighth }, cutOff(stop, bar, end - eighth, end, kind)];
    }
    case 'triplet':
      return [
        { ...stop, end: end - 2 * third },
        cutOff(stop, bar, end - 2 * third, end - third, 'triplet'),
        cutOff(stop, bar, end - third, end, 'triplet'),
      ];
    case 'fill': {
      const beat = beatTicks(bar.meter);
      const beats = Math.floor((end - Math.max(stop.tick, bar.tick)) / beat);
      const from = Array.from({ length: beats - 1 }, (_, index) => end - (beats - 1 - index) * beat);
      return [
        { ...stop, end: from[0]! },
        ...from.map((tick) => cutOff(stop, bar, tick, tick + beat, 'plain')),
      ];
    }
    case 'held':
      return [{ ...stop, end: lastEnd }];
    case 'anticipation':
      return stop.end - stop.tick === eighth ? [] : [{ ...stop, end: end - eighth }];
  }
}

/** The stops with the chosen figures put in. */
export function putIn(
  stops: readonly Stop[],
  bars: readonly TimelineBar[],
  chosen: ReadonlyMap<number, Fit>,
): readonly Stop[] {
  const result: Stop[] = [];
  let isEarly = false;
  for (let index = 0; index < stops.length; index += 1) {
    const written = stops[index]!;
    const stop = isEarly ? anEighthEarly(written, bars[stops[index - 1]!.bar]!) : written;
    const fit = chosen.get(index);
    isEarly = fit?.figure === 'anticipation';
    if (!fit) {
      result.push(stop);
      continue;
    }
    result.push(...played(stop, bars[written.bar]!, fit, stops[fit.last]!.end));
    index = fit.last;
  }
  return result;
}

/** The stops with figures by chance. Deterministic; linear in the number of stops. */
export function withFigures(
  stops: readonly Stop[],
  bars: readonly TimelineBar[],
  feel: Feel,
  wish: FigureWish,
): readonly Stop[] {
  if (!(wish.density > 0)) return stops;
  const groups = fitsByGroup(stops, bars, feel, wish);
  const { density, fills = () => 1 } = wish;
  return putIn(
    stops,
    bars,
    chooseFigures(groups, (bar) => Math.min(density * fills(bar), 1)),
  );
}
