import { describe, expect, it } from 'vitest';
import { defaultHand, handPosition, makeHand } from '../../src/instrument';
import { newStudy, setBarred } from '../../src/state/document';
import { holdFacts } from '../../src/state/hand-facts';
import {
  barredPositionsOf,
  isThumbBarred,
  limitPresets,
  presetOf,
  thumbPositions,
  withThumb,
} from '../../src/state/limit-presets';
import { bass } from './fixtures';

describe('what a hand can hold', () => {
  // Span table computed from x(n) = L (1 - 2^(-n/12)) at L = 1060 mm: a whole tone at n = 1 is 109.2 mm, a minor third
  // 159 mm; with a span of 150 mm the comfortable share (0.73, Parncutt et al. 1997) is 109.5 mm.
  it('follows the span table', () => {
    const [tone, third] = holdFacts(bass, defaultHand);
    expect(tone?.atNut).toBeCloseTo(109.2, 1);
    expect(tone?.comfortableFrom).toBe(1);
    expect(third?.atNut).toBeCloseTo(159, 0);
    expect(third?.comfortableFrom).toBe(8);
    expect(third?.possibleFrom).toBe(4);
  });

  it('moves up for a smaller hand and says when nothing helps', () => {
    const [tone, third] = holdFacts(bass, makeHand(90));
    expect(tone?.comfortableFrom).toBeGreaterThan(1);
    expect(third?.comfortableFrom).toBeNull();
  });
});

describe('limits', () => {
  const study = newStudy('');

  it('are recognised as the preset they are', () => {
    for (const preset of limitPresets) {
      expect(presetOf(setBarred(study, barredPositionsOf(preset)))).toBe(preset);
    }
    expect(presetOf(setBarred(study, [handPosition(5)]))).toBeNull();
  });

  it('bar the thumb positions as one and leave the others as they are', () => {
    const half = setBarred(study, [handPosition(1)]);
    const withoutThumb = setBarred(half, withThumb(half, true));
    expect(isThumbBarred(withoutThumb)).toBe(true);
    expect(withoutThumb.barred).toEqual([1, ...thumbPositions]);
    expect(withThumb(withoutThumb, false)).toEqual([1]);
    expect(isThumbBarred(half)).toBe(false);
  });
});
