// The click, and the count before the music, on straight ticks.
import patternData from '../../shared/rhythm/patterns.json' with { type: 'json' };
import { barTicks, beatTicks } from '../pipeline/1-chart';
import type { TimelineBar } from '../pipeline/2-timeline';
import { groupsOf, offsetIn } from './band/places';
import type { DrumHit } from './band/hits';
import { clickSounds, type ClickPlace } from './types';

type ClickRows = Readonly<Record<string, readonly (readonly unknown[])[]>>;
const clickPatterns: Readonly<Record<ClickPlace, ClickRows>> = {
  '2 and 4': patternData.click,
  'every beat': patternData['click on every beat'],
};

/** What the click plays in a bar; a group without rows of its own has those of two beats, as far as they go. */
export function clickHits(bar: TimelineBar, place: ClickPlace): readonly DrumHit[] {
  const pattern = clickPatterns[place];
  return groupsOf(bar.meter).flatMap((group) => {
    const rows = pattern[String(group.beats)] ?? pattern['2'] ?? [];
    return rows.flatMap(([name, beat, velocity]): readonly DrumHit[] => {
      const sound = clickSounds.find((one) => one === name);
      const offset = Number(beat) < group.beats + 1 ? offsetIn(bar, group, Number(beat)) : undefined;
      if (sound === undefined)
        throw new RangeError(`patterns.json: ${String(name)} is no sound of the click`);
      return offset === undefined ? [] : [{ part: 'click', sound, offset, velocity: Number(velocity) }];
    });
  });
}

/**
 * A count before the music: every beat in the last bar, every second one before it; a pickup is counted up to.
 * @param bar the bar the music starts with
 */
export function countInHits(
  bar: TimelineBar,
  bars: 0 | 1 | 2,
): { readonly ticks: number; readonly hits: readonly DrumHit[] } {
  if (bars === 0) return { ticks: 0, hits: [] };
  const whole = barTicks(bar.meter);
  const pickupLead = bar.ticks < whole ? whole - bar.ticks : 0;
  const ticks = bars * whole + pickupLead;
  const step = beatTicks(bar.meter);
  const slowUntil = (bars - 1) * whole;
  const hits: DrumHit[] = [];
  for (let offset = 0; offset < ticks; offset += step) {
    const beat = Math.round((offset % whole) / step);
    if (offset < slowUntil && beat % 2 !== 0) continue;
    const isFirst = beat === 0;
    const sound = isFirst ? 'block high' : 'block low';
    hits.push({ part: 'click', sound, offset, velocity: isFirst ? 0.9 : 0.7 });
  }
  return { ticks, hits };
}
