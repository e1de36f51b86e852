import { describe, expect, it } from 'vitest';
import { barIndex } from '../../src/music';
import { extendRange, firstPlayed, fitRange } from '../../src/state/loop';
import { makeTimeline } from './fixtures';

describe('bars to play over and over', () => {
  it('are chosen by one click, two clicks, and let go by a second click', () => {
    const one = extendRange(null, barIndex(4));
    expect(one).toEqual({ from: 4, to: 4 });
    expect(extendRange(one, barIndex(7))).toEqual({ from: 4, to: 7 });
    expect(extendRange(one, barIndex(1))).toEqual({ from: 1, to: 4 });
    expect(extendRange(one, barIndex(4))).toBeNull();
    expect(extendRange({ from: barIndex(1), to: barIndex(4) }, barIndex(6))).toEqual({ from: 6, to: 6 });
  });

  it('stay inside the music', () => {
    expect(fitRange({ from: barIndex(2), to: barIndex(9) }, 4)).toEqual({ from: 2, to: 3 });
    expect(fitRange({ from: barIndex(5), to: barIndex(9) }, 4)).toBeNull();
    expect(fitRange(null, 4)).toBeNull();
  });

  it('finds the first time a written bar is played', () => {
    const once = makeTimeline(4);
    const twice = {
      ...once,
      bars: [...once.bars, ...once.bars.map((bar) => ({ ...bar, index: barIndex(bar.index + 4) }))],
    };
    expect(firstPlayed(twice, 2)).toBe(2);
    expect(firstPlayed(twice, 2, 3)).toBe(6);
    expect(firstPlayed(twice, 9)).toBeUndefined();
  });
});
