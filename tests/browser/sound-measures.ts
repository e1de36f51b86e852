// What the specs about sound share: music to render, ways to measure it, and what is near enough.
import { expect, type Page } from '@playwright/test';
import { barIndex } from '../../src/music';
import type { BarRange } from '../../src/playback';
import type { Wish } from './sound-harness';

export const header = 'Key: F\nMeter: 4/4\nFeel: swing\nTempo: 120\n\n';
export const fourBars = `${header}| F7 | Bb7 | F7 | C7 |]`;
export const startAt = 0.15;
/** Seconds of a beat at the 120 of the fixtures. */
export const beat = 0.5;
export const millisecond = 0.001;
/** A click that went through the mix is well over this, the rest of the world is far under it. */
export const clickLevel = 0.02;

/** Bars that go round, from 0. */
export const round = (from: number, to = from): BarRange => ({ from: barIndex(from), to: barIndex(to) });

export type Render = Partial<Wish> & Pick<Wish, 'sounds' | 'only' | 'seconds'>;

/** Renders in the page; gives what the run held at its end. */
export const render = (page: Page, wish: Render): Promise<number> =>
  page.evaluate((all) => harness.render(all), { chart: fourBars, startAt, ...wish });
export const onsets = (page: Page, level: number, gap: number): Promise<number[]> =>
  page.evaluate(([a, b]) => harness.onsets(a, b), [level, gap] as const);
export const rms = (page: Page, from: number, to: number): Promise<number> =>
  page.evaluate(([a, b]) => harness.rms(a, b), [from, to] as const);

/** When a part's events should be heard, in seconds. */
export async function expected(page: Page, part: string, settings: Wish['settings'] = {}): Promise<number[]> {
  const ticks = await page.evaluate(
    ([chart, name, wishes]) =>
      harness
        .scheduleOf({ chart, settings: wishes })
        .events.flatMap((event) => (event.part === name ? [event.tick] : [])),
    [fourBars, part, settings] as const,
  );
  return ticks.map((tick) => startAt + (tick / 480) * beat);
}

export function expectWithin(heard: readonly number[], wanted: readonly number[], tolerance: number): void {
  expect(heard).toHaveLength(wanted.length);
  heard.forEach((time, i) => {
    expect(Math.abs(time - wanted[i]!)).toBeLessThan(tolerance);
  });
}
