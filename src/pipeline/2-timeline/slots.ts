// Bars with chords to slots: one for every note of the bass.
import { ticks, barAfter } from '../../music';
import { beatTicks, feelRows, type Feel } from '../1-chart';
import { withFigures } from './figures';
import type { FigureWish } from './figures-fits';
import { isOrnament } from './rhythm';
import { stopsToTheEnd } from './rhythm-ending';
import { withKeptRhythm, withPinnedMoments } from './rhythm-kept';
import { pedalsOf } from './rhythm-pedal';
import { stopsOf, type Stop } from './rhythm-stops';
import { isTargetStop, phrasePlacesOf, sinceTargets, targetsAhead } from './targets';
import type { PhrasePlace, Slot, TimelineBar, TimelineChord } from './types';

/** What the rhythm is made from, besides the bars. */
export interface RhythmWish extends FigureWish {
  readonly feel: Feel;
  /** Index of the bar where the form begins, after pickup and introduction. */
  readonly top: number;
}

/** Where a note and the ornaments cut from it end. */
function endWithOrnaments(stops: readonly Stop[], index: number): number {
  let last = index;
  while (isOrnament(stops[last + 1]?.articulation)) last += 1;
  return stops[last]!.end;
}

/** What a slot carries only where it is not plain walking. */
function marksOf(
  stops: readonly Stop[],
  index: number,
  bars: readonly TimelineBar[],
  { feel, goesRound }: RhythmWish,
  pedals: ReadonlySet<TimelineChord>,
): Partial<Slot> {
  const stop = stops[index]!;
  const following = stops[index + 1];
  const length = endWithOrnaments(stops, index) - stop.tick;
  const isSustained = !isOrnament(stop.articulation) && length >= 2 * beatTicks(bars[stop.bar]!.meter);
  const isLast = following === undefined && !goesRound;
  const confinedTo = isLast ? 'root' : feelRows[feel].confinedTo;
  return {
    ...(stop.articulation === 'plain' ? {} : { articulation: stop.articulation }),
    ...(following && following.articulation !== 'plain' ? { nextArticulation: following.articulation } : {}),
    ...(isSustained ? { isSustained } : {}),
    ...(pedals.has(stop.harmony) ? { isPedal: true } : {}),
    ...(confinedTo === null ? {} : { confinedTo }),
  };
}

/** The next note of its own after each stop; null where there is none before the end. */
function nextOwn(stops: readonly Stop[]): readonly (Stop | null)[] {
  const next: (Stop | null)[] = stops.map(() => null);
  let after: Stop | null = null;
  for (let index = stops.length - 1; index >= 0; index -= 1) {
    next[index] = after;
    if (!isOrnament(stops[index]!.articulation)) after = stops[index]!;
  }
  return next;
}

/** All slots in playing order. Where the form goes round, the last one looks ahead to the first of the form. */
export function slotsOf(bars: readonly TimelineBar[], wish: RhythmWish): readonly Slot[] {
  const { feel, top, goesRound } = wish;
  const plain = bars.flatMap((bar) => stopsOf(bar, feel));
  const figured = withFigures(goesRound ? plain : stopsToTheEnd(plain, bars), bars, feel, wish);
  const held = withKeptRhythm(figured, bars, wish.rhythm ?? new Map());
  const stops = withPinnedMoments(held, bars, wish.kept);
  const around = stops.find(({ bar }) => bar >= top) ?? stops[0];
  const last = bars.at(-1);
  if (around === undefined || last === undefined) return [];
  /** The first note of its own in a bar, sooner or later. */
  const opensBar = (stop: Stop, index: number): boolean =>
    isTargetStop(stop) && (stop.strength === 3 || stop.articulation === 'anticipation' || index === 0);
  const phraseAt = ({ bar, articulation }: Stop): PhrasePlace =>
    phrases[articulation === 'anticipation' ? barAfter(bar) : bar] ?? 'top';
  const topTick = bars[top]?.tick ?? 0;
  const pedals = pedalsOf(bars);
  const own = nextOwn(stops);
  const ahead = targetsAhead(stops, goesRound ? around : null);
  const since = sinceTargets(stops);
  const phrases = phrasePlacesOf(bars);
  return stops.map((stop, index): Slot => {
    const next = own[index] ?? (goesRound ? around : stop);
    const nextTick =
      stops[index + 1]?.tick ?? (goesRound ? last.tick + last.ticks + around.tick - topTick : stop.end);
    const isNewChord = next.harmony.chord?.symbol !== stop.harmony.chord?.symbol;
    const isDownbeat = next.strength === 3 || next.articulation === 'anticipation';
    return {
      index,
      bar: stop.bar,
      beat: stop.beat,
      tick: ticks(stop.tick),
      ticks: ticks(stop.end - stop.tick),
      harmony: stop.harmony,
      nextHarmony: next.harmony,
      isChange: stop.isChange,
      nextIsChange: own[index]?.isChange ?? isNewChord,
      nextIsDownbeat: next !== stop && isDownbeat,
      strength: stop.strength,
      isTarget: isTargetStop(stop),
      sinceTarget: since[index]!,
      untilTarget: ahead[index]!.untilTarget,
      target: ahead[index]!.target ?? stop.harmony,
      phrase: opensBar(stop, index) ? phraseAt(stop) : 'inside',
      restAfter: ticks(Math.max(nextTick - stop.end, 0)),
      ...marksOf(stops, index, bars, wish, pedals),
    };
  });
}
