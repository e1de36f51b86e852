// How the ride changes from bar to bar.
import { describe, expect, it } from 'vitest';
import { makeSchedule } from '../../src/playback';
import { rideRows } from '../../src/playback/ride';
import { musicOf, settingsWith, swingBlues } from './fixtures';

/** The ride of every bar, as half beats. */
function rides(seed: number, isLoose = true): string[] {
  const { events, bars } = makeSchedule(
    musicOf(swingBlues, undefined, 3),
    settingsWith({ seed, isLoose, swing: 1 }),
  );
  return bars.map(({ start, end }) =>
    events
      .filter(({ part, tick }) => part === 'cymbal' && tick >= start && tick < end)
      .map(({ tick }) => Math.round((tick - start) / 240))
      .join(' '),
  );
}

describe('the ride', () => {
  it('differs from bar to bar by a bit and more', () => {
    const all = [1, 2, 3, 4, 5, 6].flatMap((seed) => rides(seed));
    const counts = new Map<string, number>();
    for (const one of all) counts.set(one, (counts.get(one) ?? 0) + 1);
    const bits = [...counts.values()].reduce(
      (sum, n) => sum - (n / all.length) * Math.log2(n / all.length),
      0,
    );
    expect(bits).toBeGreaterThan(1);
    expect(bits).toBeLessThan(2.4);
  });

  it('never has four bars alike running, whatever the seed', () => {
    for (let seed = 0; seed < 300; seed++) {
      const rows = rideRows(seed, 64);
      rows.slice(3).forEach((row, i) => {
        expect(new Set([row, rows[i], rows[i + 1], rows[i + 2]]).size).toBeGreaterThan(1);
      });
    }
  });

  it('keeps every beat, is the same for the same seed, and plain where the band is to play exactly', () => {
    for (const bar of rides(5))
      for (const beat of ['0', '2', '4', '6']) expect(bar.split(' ')).toContain(beat);
    expect(rides(5)).toEqual(rides(5));
    expect(rides(5)).not.toEqual(rides(6));
    expect(new Set(rides(5, false)).size).toBe(1);
  });
});
