// Where the parts are against the beat, in milliseconds, as listeners were found to like it (Hofmann et al. 2017).
import { describe, expect, it } from 'vitest';
import { bpm } from '../../src/music';
import { feels } from '../../src/pipeline/1-chart';
import { amounts, makeSchedule, type Part } from '../../src/playback';
import leanData from '../../shared/rhythm/lean.json' with { type: 'json' };
import { leanOf } from '../../src/playback/lean';
import { parts } from '../../src/playback/types';
import { chartIn } from './feel-charts';
import { musicOf, settingsWith, swingBlues } from './fixtures';

const tempi = [60, 120, 200, 300] as const;

/** Milliseconds by which every hit of a part is later with leans than without. */
function leansOf(part: Part, tempo: number, seed = 7): number[] {
  const music = musicOf(swingBlues, undefined, 3);
  const of = (leans: boolean) =>
    makeSchedule(music, settingsWith({ tempo: bpm(tempo), leans, seed, isLoose: false }))
      .events.filter((event) => event.part === part)
      .map(({ tick }) => tick);
  const [leaning, exact] = [of(true), of(false)];
  expect(leaning).toHaveLength(exact.length);
  return leaning.map((tick, i) => ((tick - exact[i]!) / 480) * (60_000 / tempo));
}

describe('leans', () => {
  it.each(tempi)(
    'have the hi-hat 2 to 26 ms ahead at %i, under 19 on average, and never quite steady',
    (tempo) => {
      const leans = leansOf('hi-hat', tempo);
      expect(leans.length).toBeGreaterThan(60);
      for (const lean of leans) {
        expect(lean).toBeLessThanOrEqual(-2);
        expect(lean).toBeGreaterThanOrEqual(-26);
      }
      expect(leans.reduce((sum, lean) => sum + lean, 0) / leans.length).toBeGreaterThan(-19);
      expect(new Set(leans.map((lean) => lean.toFixed(3))).size).toBeGreaterThan(2);
    },
  );

  it.each(tempi)('keep bass and cymbal within 5 ms at %i, chords behind by less than 12', (tempo) => {
    for (const lean of leansOf('cymbal', tempo)) expect(Math.abs(lean)).toBeLessThan(5);
    for (const lean of leansOf('bass', tempo)) expect(lean).toBe(0);
    for (const lean of leansOf('click', tempo)) expect(lean).toBe(0);
    for (const lean of leansOf('chords', tempo)) {
      expect(lean).toBeGreaterThanOrEqual(0);
      expect(lean).toBeLessThan(12);
    }
  });

  it('are the same for the same seed and others for another', () => {
    expect(leansOf('hi-hat', 120, 3)).toEqual(leansOf('hi-hat', 120, 3));
    expect(leansOf('hi-hat', 120, 3)).not.toEqual(leansOf('hi-hat', 120, 4));
  });

  it('set to none leave every beat of every part exactly where it is written', () => {
    const exact = settingsWith({ leans: false, isLoose: false, swing: 1 });
    for (const { tick, part } of makeSchedule(musicOf(swingBlues), exact).events)
      expect(tick % 240, part).toBe(0);
  });

  it.each(feels)(
    'set to none are nothing at all in a %s: what is on a beat stays on it, drums too',
    (feel) => {
      const music = musicOf(chartIn(feel));
      const parts = new Set<string>();
      for (const amount of amounts) {
        const { events } = makeSchedule(music, settingsWith({ leans: false, swing: 1, amount }));
        for (const { tick, part } of events) {
          const near = Math.round(tick / 480) * 480;
          // The slight differences of three ticks are for off-beats alone.
          if (Math.abs(tick - near) < 40) expect(tick, part).toBe(near);
          parts.add(part);
        }
      }
      expect([...parts].sort()).toEqual(['bass', 'chords', 'click', 'cymbal', 'drums', 'hi-hat']);
    },
  );

  it.each(tempi)('keep snare, bass drum and brushes within 3 ms at %i', (tempo) => {
    const music = musicOf(chartIn('ballad'), undefined, 3);
    const of = (leans: boolean): number[] =>
      makeSchedule(music, settingsWith({ tempo: bpm(tempo), leans, isLoose: false }))
        .events.filter(({ part }) => part === 'drums')
        .map(({ tick }) => tick);
    const [leaning, exact] = [of(true), of(false)];
    expect(leaning.length).toBeGreaterThan(100);
    leaning.forEach((tick, i) =>
      expect(((Math.abs(tick - exact[i]!) / 480) * 60_000) / tempo).toBeLessThan(3),
    );
    expect(leaning).not.toEqual(exact);
  });
});

describe('a lean by itself', () => {
  const bar = 1920;
  /** After so many bars both sines are where they began. */
  const round = leanData.driftBars.reduce((product, bars) => product * bars, 1);
  const tempo = bpm(200);
  /** Milliseconds for the ticks of a lean. */
  const inMilliseconds = (ticks: number): number => (ticks / 480) * (60_000 / tempo);
  const leans = (part: Part, seed = 7): number[] =>
    Array.from({ length: round * 2 }, (_, half) => leanOf(part, (half * bar) / 2, seed, tempo));

  it.each(parts)(
    'of %s is what the table says on average, and drifts as far as it says and no further',
    (part) => {
      const { lean, drift } = leanData.parts[part];
      for (const seed of [1, 2, 3]) {
        const found = leans(part, seed).map(inMilliseconds);
        const mean = found.reduce((sum, one) => sum + one, 0) / found.length;
        // To a tick, rounded: 5/8 of a millisecond.
        expect(Math.abs(mean - lean * 1000)).toBeLessThan(0.32);
        const furthest = Math.max(...found.map((one) => Math.abs(one - lean * 1000)));
        expect(furthest).toBeLessThanOrEqual(drift * 1000 + 0.32);
        expect(furthest).toBeGreaterThan(drift * 700 - 0.32);
      }
    },
  );

  it('comes round after both its periods and not before, and has phases of its own in each part', () => {
    const found = leans('hi-hat');
    const after = (bars: number): number[] =>
      found.map((_, half) => leanOf('hi-hat', (half * bar) / 2 + bars * bar, 7, tempo));
    expect(after(round)).toEqual(found);
    for (const bars of leanData.driftBars) expect(after(bars)).not.toEqual(found);
    const shapeOf = (part: Part): string => String(leans(part).map((one) => one - leans(part)[0]!));
    const drifting = parts.filter((part) => leanData.parts[part].drift > 0);
    expect(drifting.length).toBeGreaterThan(1);
    expect(new Set(drifting.map(shapeOf)).size).toBe(drifting.length);
  });

  it('is the same time at any tempo, so many more ticks at a faster one', () => {
    for (const tick of [0, 960, 5000]) {
      const slow = leanOf('hi-hat', tick, 7, bpm(60));
      expect(Math.abs(leanOf('hi-hat', tick, 7, bpm(240)) - 4 * slow)).toBeLessThanOrEqual(2.5);
      expect(slow).toBeLessThan(0);
    }
  });

  it('is that of its seed in every version: a study sounds as it did when it was saved', () => {
    const bars = [0, 0.25, 1, 2, 5, 10];
    const leansAt = (part: Part, seed: number): number[] =>
      bars.map((at) => leanOf(part, at * bar, seed, tempo));
    expect(leansAt('hi-hat', 7)).toEqual([-14, -13, -12, -14, -20, -17]);
    expect(leansAt('chords', 8)).toEqual([10, 9, 8, 6, 14, 11]);
  });
});
