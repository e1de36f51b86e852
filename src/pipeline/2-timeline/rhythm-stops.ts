// The plain rhythm of a bar: the moments of the feel, and every place where the chord changes between them.
import type { BarIndex } from '../../music';
import { barTicks, beatTicks, type Feel } from '../1-chart';
import { feelOffsets, strengthAt } from './rhythm';
import type { Articulation, Slot, TimelineBar, TimelineChord } from './types';

/** A slot before it knows the next one. */
export interface Stop {
  readonly bar: BarIndex;
  readonly beat: number;
  readonly tick: number;
  readonly end: number;
  readonly harmony: TimelineChord;
  readonly isChange: boolean;
  readonly strength: Slot['strength'];
  readonly articulation: Articulation;
}

/** A pickup is the end of a bar whose beginning is not there: the ticks that are missing. */
const missingTicks = (bar: TimelineBar): number => barTicks(bar.meter) - bar.ticks;

/** Beat of the bar at a tick, counting from 1. */
export const beatAt = (bar: TimelineBar, tick: number): number =>
  (tick - bar.tick + missingTicks(bar)) / beatTicks(bar.meter) + 1;

/** Strength of a tick within a bar. */
export const strengthIn = (bar: TimelineBar, tick: number): Slot['strength'] =>
  strengthAt(tick - bar.tick + missingTicks(bar), bar.meter);

/** The stops of one bar; N.C. has none. */
export function stopsOf(bar: TimelineBar, feel: Feel): readonly Stop[] {
  const moments = feelOffsets(feel, bar.meter)
    .map((offset) => offset - missingTicks(bar))
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
      const tick = bar.tick + offset;
      stops.push({
        bar: bar.index,
        beat: beatAt(bar, tick),
        tick,
        end: bar.tick + (offsets[next] ?? bar.ticks),
        harmony,
        isChange: harmony.isChange && offset === from,
        strength: strengthIn(bar, tick),
        articulation: 'plain',
      });
    }
  }
  return stops;
}
