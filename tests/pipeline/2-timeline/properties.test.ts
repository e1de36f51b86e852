// Properties of every timeline, whatever the chart: bars and slots follow one another without gap or overlap.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { barTicks, readChart } from '../../../src/pipeline/1-chart';
import { makeTimeline, mostPlayedBars, unroll, type Timeline } from '../../../src/pipeline/2-timeline';
import { chartText, nonsense } from '../1-chart/random-charts';

const seed = 20252;

function expectSound({ bars, slots, ticks }: Timeline): void {
  let tick = 0;
  for (const bar of bars) {
    expect(bar.tick).toBe(tick);
    expect(bar.ticks).toBeGreaterThan(0);
    expect(bar.ticks).toBeLessThanOrEqual(barTicks(bar.meter));
    let place = tick;
    for (const chord of bar.chords) {
      expect(chord.tick).toBe(place);
      place += chord.ticks;
      expect(chord.scale === null).toBe(chord.chord === null);
    }
    tick += bar.ticks;
    expect(place).toBe(tick);
  }
  expect(ticks).toBe(tick);
  slots.forEach((slot, index) => {
    const next = slots[index + 1];
    const bar = bars[slot.bar]!;
    expect(slot.index).toBe(index);
    expect(slot.harmony.chord).not.toBeNull();
    expect(slot.ticks).toBeGreaterThan(0);
    expect(slot.tick).toBeGreaterThanOrEqual(slot.harmony.tick);
    expect(slot.tick).toBeLessThan(slot.harmony.tick + slot.harmony.ticks);
    expect(slot.tick + slot.ticks).toBeLessThanOrEqual(bar.tick + bar.ticks);
    expect(slot.beat).toBeGreaterThanOrEqual(1);
    if (next === undefined) return;
    expect(slot.tick + slot.ticks + slot.restAfter).toBe(next.tick);
    expect(slot.nextHarmony).toBe(next.harmony);
    expect(slot.nextIsChange).toBe(next.isChange);
    expect(slot.nextIsDownbeat).toBe(next.strength === 3);
  });
  // Wherever the chord changes there is a slot for it.
  const starts = new Set(slots.map((slot) => slot.tick));
  for (const chord of bars.flatMap((bar) => bar.chords)) {
    if (chord.isChange && chord.chord !== null) expect(starts.has(chord.tick)).toBe(true);
  }
}

describe('a timeline', () => {
  it('is sound for sensible charts', () => {
    fc.assert(
      fc.property(chartText, fc.integer({ min: 1, max: 3 }), (text, choruses) => {
        const { timeline } = makeTimeline(readChart(text).chart, { choruses, tempo: null });
        if (timeline !== null) expectSound(timeline);
      }),
      { seed, numRuns: 150 },
    );
  });

  it('plays every bar of the chart that it plays whole, and never too many, whatever the text', () => {
    fc.assert(
      fc.property(nonsense, fc.integer({ min: 1, max: 4 }), (text, choruses) => {
        const { chart } = readChart(text);
        const { bars, top } = unroll(chart, choruses);
        expect(bars.length).toBeLessThanOrEqual(mostPlayedBars);
        expect(bars.length > 0).toBe(chart.bars.length > 0);
        for (const { chartBar } of bars) expect(chart.bars[chartBar]).toBeDefined();
        expect(top).toBeLessThanOrEqual(Math.max(bars.length - 1, 0));
      }),
      { seed, numRuns: 5000 },
    );
  });
});
