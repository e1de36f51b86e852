import { describe, expect, it } from 'vitest';
import {
  barTicks,
  beatGroups,
  beatsInBar,
  beatTicks,
  parseMeter,
  shortTicks,
} from '../../../src/pipeline/1-chart';
import { shareEvenly } from '../../../src/pipeline/1-chart/meter';

describe('meters', () => {
  // Groups are common practice, no source.
  it.each([
    ['4/4', 1920, 480, 4, 240, [2, 2]],
    ['3/4', 1440, 480, 3, 240, [3]],
    ['2/4', 960, 480, 2, 240, [2]],
    ['5/4', 2400, 480, 5, 240, [3, 2]],
    ['6/4', 2880, 480, 6, 240, [3, 3]],
    ['7/4', 3360, 480, 7, 240, [2, 2, 3]],
    ['6/8', 1440, 720, 2, 240, [2]],
    ['9/8', 2160, 720, 3, 240, [3]],
    ['12/8', 2880, 720, 4, 240, [2, 2]],
    ['3/8', 720, 240, 3, 120, [3]],
    ['7/8', 1680, 240, 7, 120, [2, 2, 3]],
    ['2/2', 1920, 480, 4, 240, [2, 2]],
    ['3/2', 2880, 480, 6, 240, [3, 3]],
    ['1/4', 480, 480, 1, 240, [1]],
  ])('%s', (text, bar, beat, beats, short, groups) => {
    const meter = parseMeter(text)!;
    expect([
      barTicks(meter),
      beatTicks(meter),
      beatsInBar(meter),
      shortTicks(meter),
      beatGroups(meter),
    ]).toEqual([bar, beat, beats, short, groups]);
    expect(groups.reduce((sum, group) => sum + group, 0)).toBe(beats);
  });

  it.each(['', '4', '4/3', '0/4', '17/4', '4/16', '4/4/4', '-4/4', 'four'])('refuses %j', (text) => {
    expect(parseMeter(text)).toBeUndefined();
  });
});

describe('sharing a bar', () => {
  // Common practice, no source: equal shares, else the change falls on the strong beat.
  it.each([
    [4, 1, [4]],
    [4, 2, [2, 2]],
    [4, 3, [2, 1, 1]],
    [4, 4, [1, 1, 1, 1]],
    [3, 2, [2, 1]],
    [5, 2, [3, 2]],
    [5, 3, [2, 1, 2]],
    [6, 3, [2, 2, 2]],
    [7, 2, [4, 3]],
    [8, 5, [2, 2, 2, 1, 1]],
  ])('%i beats among %i', (units, count, expected) => {
    expect(shareEvenly(units, count)).toEqual(expected);
  });

  it('gives everyone at least one and spends everything', () => {
    for (let units = 1; units <= 32; units += 1) {
      for (let count = 1; count <= units; count += 1) {
        const shares = shareEvenly(units, count);
        expect(shares).toHaveLength(count);
        expect(Math.min(...shares)).toBeGreaterThanOrEqual(1);
        expect(shares.reduce((sum, share) => sum + share, 0)).toBe(units);
      }
    }
  });
});
