import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bpm, ticks } from '../../../src/music';
import { makeFigures, wholePercents } from '../../../src/ui/report/figures';
import { handReport, madeTimeline } from '../fingerboard/made-line';

describe('figures of the hand report', () => {
  it('give a chorus its time and an hour its choruses', () => {
    const figures = makeFigures(handReport, madeTimeline, bpm(120), 1);
    expect(figures.chorus).toBe(8);
    expect(figures.chorusesAnHour).toBe(450);
  });

  it('share out an hour as the line shares out its time', () => {
    const { regions } = makeFigures(handReport, madeTimeline, bpm(132), 1);
    expect(regions.map((one) => one.minutesAnHour)).toEqual([3.75, 18.75, 22.5, 3.75, 11.25]);
    expect(regions.reduce((sum, one) => sum + one.minutesAnHour, 0)).toBeCloseTo(60, 9);
  });

  it('leave the rests out of the hour', () => {
    const resting = { ...madeTimeline, ticks: ticks(madeTimeline.ticks * 2) };
    const { regions } = makeFigures(handReport, resting, bpm(132), 1);
    expect(regions.reduce((sum, one) => sum + one.minutesAnHour, 0)).toBeCloseTo(30, 9);
  });

  it('count by the chorus and, faster at a faster tempo, by the hour', () => {
    const slow = makeFigures(handReport, madeTimeline, bpm(60), 2).counts[0]!;
    const fast = makeFigures(handReport, madeTimeline, bpm(120), 2).counts[0]!;
    expect(slow).toEqual({ kind: 'bareShifts', aChorus: 1, anHour: 450 });
    expect(fast.anHour).toBe(2 * slow.anHour);
  });
});

describe('whole percents', () => {
  it('sum to a hundred whatever the shares', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 1000 }), { minLength: 1, maxLength: 6 }), (parts) => {
        const whole = parts.reduce((a, b) => a + b, 0);
        fc.pre(whole > 0);
        const percents = wholePercents(parts.map((part) => part / whole));
        expect(percents.reduce((a, b) => a + b, 0)).toBe(100);
        percents.forEach((percent, index) => {
          expect(Math.abs(percent - (100 * parts[index]!) / whole)).toBeLessThan(1);
        });
      }),
    );
  });

  it('round up the largest remainders', () => {
    expect(wholePercents([1 / 16, 5 / 16, 6 / 16, 1 / 16, 3 / 16])).toEqual([6, 31, 38, 6, 19]);
  });

  it('are nothing where there is nothing', () => {
    expect(wholePercents([0, 0])).toEqual([0, 0]);
  });
});
