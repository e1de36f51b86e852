// More like this: a wish goes the way the take stands from its fellows, and the takes that come follow it.
import { describe, expect, it } from 'vitest';
import data from '../../../shared/weights/audition-shares.json' with { type: 'json' };
import { drawnAsOf } from '../../../src/state/auditions/drawn';
import { meanWalk, shareOfWish, wishesLike, wishNames } from '../../../src/state/auditions/like';
import { blues, drawn } from './takes';

const none = { bold: 0, leaps: 0, outside: 0 };
const walk = (roots: number, steps: number, outside: number) => ({ roots, steps, outside });

describe('wishes for more like a take', () => {
  it('are as before for a take like its fellows', () => {
    const one = walk(0.8, 0.4, 0.05);
    expect(wishesLike(one, [one, one], { bold: 0.3, leaps: -0.2, outside: 0 })).toEqual({
      bold: 0.3,
      leaps: -0.2,
      outside: 0,
    });
  });

  it('go bolder with fewer roots, to leaps with fewer steps, outside with more such notes', () => {
    const fellows = [walk(0.8, 0.5, 0.02), walk(0.7, 0.4, 0.04)];
    const wishes = wishesLike(fellows[1]!, fellows, none);
    // Half of a tenth over what a unit of the wish moves: 0.05 / 0.235, 0.05 / 0.29, 0.01 / 0.0825.
    expect(wishes).toEqual({ bold: 0.2, leaps: 0.2, outside: 0.1 });
    expect(wishesLike(fellows[0]!, fellows, none)).toEqual({ bold: -0.2, leaps: -0.2, outside: -0.1 });
  });

  it('stay within what a study can hold', () => {
    const far = wishesLike(walk(0, 0, 1), [walk(1, 1, 0)], none);
    expect(far).toEqual({ bold: 1, leaps: 1, outside: 1 });
  });

  it('start from those the take was drawn with', () => {
    const fellows = [walk(0.8, 0.5, 0.02), walk(0.7, 0.4, 0.04)];
    expect(wishesLike(fellows[1]!, fellows, { bold: 0.5, leaps: -0.5, outside: 1 })).toEqual({
      bold: 0.7,
      leaps: -0.3,
      outside: 1,
    });
  });
});

describe.each(wishNames)('the shares at the ends of "%s"', (name) => {
  it('are about those of takes drawn there', () => {
    const share = shareOfWish[name];
    for (const [end, value] of [
      ['least', -1],
      ['most', 1],
    ] as const) {
      const study = blues({ [name]: value });
      const walks = [21, 22, 23].map((seed) => drawn(study, seed, 0, drawnAsOf(study)).figures.walk);
      expect(Math.abs(meanWalk(walks)[share] - data.shares[name][end])).toBeLessThan(0.12);
    }
  });
});
