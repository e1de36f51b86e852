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

  it.each(wishNames)(
    'ask for no more than "%s" where a take stands from its fellows as that moves them',
    (name) => {
      const { least, most } = data.wishes[name];
      const toMost = (share: number) =>
        walk(
          least.roots + share * (most.roots - least.roots),
          least.steps + share * (most.steps - least.steps),
          least.outside + share * (most.outside - least.outside),
        );
      // A fifth of the way from end to end, which is 2 units long, from the middle of two fellows.
      expect(wishesLike(toMost(0.7), [toMost(0.3), toMost(0.7)], none)).toEqual({ ...none, [name]: 0.4 });
      expect(wishesLike(toMost(0.3), [toMost(0.3), toMost(0.7)], none)).toEqual({ ...none, [name]: -0.4 });
      expect(wishesLike(toMost(0.7), [toMost(0.3), toMost(0.7)], { ...none, [name]: 0.5 })[name]).toBe(0.9);
      // Within what a study can hold.
      expect(wishesLike(toMost(0.9), [toMost(0.1)], none)[name]).toBe(1);
    },
  );

  it('bring takes whose shares are those of the one that was chosen, within a tenth on the mean', () => {
    const study = blues();
    const first = [30, 31, 32, 33, 34, 35, 36, 37, 38, 39].map((seed) => drawn(study, seed).figures.walk);
    const boldest = first.toSorted((a, b) => a.roots - b.roots)[0]!;
    const wishes = wishesLike(boldest, first, none);
    const next = meanWalk(
      [40, 41, 42, 43, 44, 45].map(
        (seed) => drawn(study, seed, 0, { ...drawnAsOf(study), ...wishes }).figures.walk,
      ),
    );
    expect(Math.abs(meanWalk(first).roots - boldest.roots)).toBeGreaterThan(0.1);
    for (const share of ['roots', 'steps', 'outside'] as const)
      expect(Math.abs(next[share] - boldest[share])).toBeLessThan(0.1);
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
      const walks = [21, 22, 23, 24, 25, 26].map(
        (seed) => drawn(study, seed, 0, drawnAsOf(study)).figures.walk,
      );
      expect(Math.abs(meanWalk(walks)[share] - data.wishes[name][end][share])).toBeLessThan(0.12);
    }
  });
});
