// What a move takes of its time, in words until the player has calibrated.
import { describe, expect, it } from 'vitest';
import table from '../../../shared/hand/movement.json' with { type: 'json' };
import {
  defaultInstrument,
  handPosition,
  movementTime,
  stringName,
  timeToMove,
} from '../../../src/instrument';
import { seconds } from '../../../src/music';
import { effortOf, effortText, type Move } from '../../../src/pipeline';
import { toText } from '../../../src/export';
import { positionName } from '../../../src/instrument';
import { chartNames, chartText, walked } from '../request';

const move = (
  pressure: number,
  kind: Move['kind'] = 'bare shift',
): Pick<Move, 'kind' | 'time' | 'pressure'> => ({
  kind,
  time: seconds(0.2),
  pressure,
});

describe('effort', () => {
  it('is told in a word by bounds that rise and take in everything', () => {
    const bounds = table.effort.rows.map(({ upTo }) => upTo ?? Infinity);
    expect(bounds).toEqual(bounds.toSorted((a, b) => a - b));
    expect(bounds.at(-1)).toBe(Infinity);
    expect([0, 0.8, 0.81, 1.6, 1.61, 2.6, 2.61, 99].map(effortOf)).toEqual([
      'easy',
      'easy',
      'brisk',
      'brisk',
      'at the edge',
      'at the edge',
      'beyond',
      'beyond',
    ]);
  });

  it('is not beyond what players do: a bare shift by a semitone at 200', () => {
    const needed = movementTime(defaultInstrument, handPosition(2), handPosition(3));
    expect(needed / timeToMove(seconds(60 / 200), false)).toBeCloseTo(2.4, 1);
    expect(effortOf(needed / timeToMove(seconds(60 / 200), false))).toBe('at the edge');
  });

  it('is told in seconds once the player has calibrated', () => {
    expect(effortText(move(0.5), true)).toBe('about 0.10 s of the 0.20 s there is');
    expect(effortText(move(1.5), true)).toBe('about 0.30 s, so the note before ends 0.10 s early');
    expect(effortText(move(1.5, 'covered shift'), true)).toBe('about 0.30 s, 0.10 s more than there is');
    expect(effortText(move(1.5), false)).toBe('brisk');
  });

  it('leaves no seconds in the text of any demo', () => {
    for (const name of chartNames) {
      const { timeline, line } = walked(chartText(name));
      const names = {
        positionName,
        stringName: (n: Parameters<typeof stringName>[1]) => stringName(defaultInstrument, n),
      };
      expect(toText(timeline, line, names)).not.toMatch(/\d s\b|second/);
    }
  });
});
