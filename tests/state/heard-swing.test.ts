// The label of the swing beside what is played: off-beats of every feel and of several meters, drums and chords.
import { describe, expect, it } from 'vitest';
import { bpm } from '../../src/music';
import { feels } from '../../src/pipeline/1-chart';
import { makeSchedule } from '../../src/playback';
import { heardSwing } from '../../src/state/practice';
import { musicOf, settingsWith, type Moment } from '../playback/fixtures';

const tempo = bpm(130);
const meters = ['4/4', '3/4', '6/8', '12/8'] as const;

/** Ratios of the off-beat eighths of some parts, as they fall in their beats. */
function played(music: ReturnType<typeof musicOf>, parts: readonly string[], swing: number | null): number[] {
  const settings = settingsWith({ tempo, swing: swing ?? 'by tempo', seed: 2 });
  const straight = makeSchedule(music, { ...settings, swing: 1 }).events;
  const heard = makeSchedule(music, settings).events;
  const ofParts = (events: typeof heard): number[] =>
    events.flatMap(({ part, tick }) => (parts.includes(part) ? [tick] : []));
  const [before, after] = [ofParts(straight), ofParts(heard)];
  return before.flatMap((tick, i) => {
    const from = tick % 480;
    // Strays of three ticks; the hi-hat and what is left of a beat divided by three are no eighths.
    if (Math.abs(from - 240) > 4) return [];
    const long = from + after[i]! - tick;
    return [long / (480 - long)];
  });
}
const medianOf = (list: readonly number[]): number => [...list].sort((a, b) => a - b)[list.length >> 1]!;

describe.each(feels)('the swing that is told of a %s', (feel) => {
  it.each(meters)('in %s is the one that is played', (meter) => {
    const chart = `Key: F\nMeter: ${meter}\nFeel: ${feel}\n\n| F7 | Bb7 | F7 | C7 | Bb7 | F7 | C7 | F7 |]`;
    const quiet: Moment[] = [{ tick: 0, ticks: 100 }];
    const music = musicOf(chart, quiet);
    for (const swing of [null, 2, 1]) {
      const told = heardSwing(music.timeline, tempo, swing);
      for (const [parts, ratio] of [
        [['cymbal', 'drums'], told.cymbal],
        [['chords'], told.bass],
      ] as const) {
        const ratios = played(music, parts, swing);
        if (ratios.length > 0) expect(Math.abs(medianOf(ratios) - ratio)).toBeLessThan(0.15);
      }
      if (meter.endsWith('/8')) expect(told).toEqual({ bass: 1, cymbal: 1 });
    }
  });
});
