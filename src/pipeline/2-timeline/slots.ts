// Bars with chords to slots: one for every note of the bass.
import { ticks } from '../../music';
import { barTicks, beatTicks, type Feel } from '../1-chart';
import { feelOffsets, strengthAt } from './rhythm';
import type { Slot, TimelineBar, TimelineChord } from './types';

/** A slot before it knows the next one. */
interface Stop {
  readonly bar: number;
  readonly beat: number;
  readonly tick: number;
  readonly end: number;
  readonly harmony: TimelineChord;
  readonly isChange: boolean;
  readonly strength: Slot['strength'];
}

/** The stops of one bar: the moments of the feel, and every place where the chord changes between them. */
function stopsOf(bar: TimelineBar, feel: Feel): readonly Stop[] {
  // A pickup is the end of a bar whose beginning is not there.
  const missing = barTicks(bar.meter) - bar.ticks;
  const moments = feelOffsets(feel, bar.meter)
    .map((offset) => offset - missing)
    .filter((offset) => offset >= 0);
  const changes = bar.chords.filter(({ isChange }) => isChange).map(({ tick }) => tick - bar.tick);
  const offsets = [...new Set([...moments, ...changes])].sort((a, b) => a - b);
  const stops: Stop[] = [];
  let next = 0;
  for (const harmony of bar.chords) {
    const from = harmony.tick - bar.tick;
    while (next < offsets.length && offsets[next]! < from + harmony.ticks) {
      const offset = offsets[next]!;
      next += 1;
      if (harmony.chord === null) continue;
      stops.push({
        bar: bar.index,
        beat: (offset + missing) / beatTicks(bar.meter) + 1,
        tick: bar.tick + offset,
        end: bar.tick + (offsets[next] ?? bar.ticks),
        harmony,
        isChange: harmony.isChange && offset === from,
        strength: strengthAt(offset + missing, bar.meter),
      });
    }
  }
  return stops;
}

/**
 * All slots in playing order. The last one looks ahead to the first of the form, because the form goes round.
 * @param top index of the bar where the form begins, after pickup and introduction
 * @param length length of the whole in ticks
 */
export function slotsOf(
  bars: readonly TimelineBar[],
  feel: Feel,
  top: number,
  length: number,
): readonly Slot[] {
  const stops = bars.flatMap((bar) => stopsOf(bar, feel));
  const around = stops.find(({ bar }) => bar >= top) ?? stops[0];
  if (around === undefined) return [];
  const topTick = bars[top]?.tick ?? 0;
  return stops.map((stop, index): Slot => {
    const following = stops[index + 1];
    const next = following ?? around;
    const nextTick = following?.tick ?? length + around.tick - topTick;
    const isNewChord = next.harmony.chord?.symbol !== stop.harmony.chord?.symbol;
    return {
      index,
      bar: stop.bar,
      beat: stop.beat,
      tick: ticks(stop.tick),
      ticks: ticks(stop.end - stop.tick),
      harmony: stop.harmony,
      nextHarmony: next.harmony,
      isChange: stop.isChange,
      nextIsChange: following?.isChange ?? isNewChord,
      nextIsDownbeat: next.strength === 3,
      strength: stop.strength,
      restAfter: ticks(Math.max(nextTick - stop.end, 0)),
    };
  });
}
