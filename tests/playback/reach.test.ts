// What a slow page and a clock that stands still do to the playing, without any audio.
import { describe, expect, it } from 'vitest';
import { deadTime, looked, stillTime, type ClockWatch } from '../../src/playback/context';
import { lookAhead, reachAfter } from '../../src/playback/reach';
import { Conductor } from '../../src/playback/conductor';
import { makeSchedule } from '../../src/playback';
import { seededRandom } from '../../src/music';
import { musicOf, settingsWith, swingBlues } from './fixtures';

describe('how far ahead the player works', () => {
  it('stays as it is while pulses come in time', () => {
    expect(reachAfter(lookAhead, 0.025)).toBe(lookAhead);
    expect(reachAfter(lookAhead, 0.045)).toBe(lookAhead);
  });

  it('grows at once after a late pulse, is bounded, and comes back slowly', () => {
    expect(reachAfter(lookAhead, 0.2)).toBeCloseTo(0.6, 9);
    expect(reachAfter(lookAhead, 3)).toBe(0.8);
    let reach = 0.8;
    for (let pulse = 0; pulse < 40; pulse++) reach = reachAfter(reach, 0.025);
    expect(reach).toBeGreaterThan(0.5);
    for (let pulse = 0; pulse < 10_000; pulse++) reach = reachAfter(reach, 0.025);
    expect(reach).toBeLessThan(lookAhead + 0.001);
  });

  it('lets nothing begin more than 10 ms late in ten minutes of pulses up to a quarter of a second late', () => {
    const random = seededRandom(4);
    let [now, reach, late, first] = [0, lookAhead, 0, true];
    const sink = {
      strike: (_: unknown, time: number) => {
        late = Math.max(late, now - time);
      },
      damp: () => undefined,
    };
    const settings = settingsWith({});
    const conductor = new Conductor(makeSchedule(musicOf(swingBlues), settings), settings.tempo, 0.1, sink);
    conductor.advance(reach);
    while (now < 600) {
      // The first slow pulse is shorter than what is worked ahead by itself; from then on any may be slow.
      const gap = first ? 0.12 : random() < 0.3 ? 0.25 * random() : 0.025;
      first = false;
      now += gap;
      reach = reachAfter(reach, gap);
      conductor.advance(now + reach);
    }
    expect(late).toBeLessThan(0.01);
  });
});

describe('a clock that is watched', () => {
  const start: ClockWatch = { clock: 1, movedAt: 1000, checkedAt: 1000 };
  const still = ({ checkedAt, movedAt }: ClockWatch): number => checkedAt - movedAt;

  it('is fresh while it moves', () => {
    expect(still(looked(start, 1.1, 1100))).toBe(0);
  });

  it('is told of after a third of a second of standing still, and given up only after long', () => {
    let watch = start;
    for (let now = 1100; now <= 1400; now += 100) watch = looked(watch, 1, now);
    expect(still(watch)).toBeGreaterThan(stillTime);
    expect(still(watch)).toBeLessThan(deadTime);
    expect(still(looked(watch, 1.01, 1500))).toBe(0);
    expect(deadTime).toBeGreaterThanOrEqual(10_000);
  });

  it('does not get its stillness before a sleep of the page forgiven for ever', () => {
    let watch = start;
    for (let now = 1000; now < 25_000; now += 700) {
      watch = looked(watch, 1, now);
      watch = looked(watch, 1, now + 500);
    }
    expect(still(watch)).toBeGreaterThan(deadTime);
  });

  it('gets a fresh chance after the page itself has slept', () => {
    expect(still(looked(start, 1, 1000 + 2 * stillTime + 1))).toBe(0);
  });
});
