// Where the thumb can be after a pivot.
import { describe, expect, it } from 'vitest';
import { handPosition, thumbOf, thumbPlace, thumbsOff, type HandPosition } from '../../src/instrument';

const upright = { heel: 8 } as never;
const off = (position: number, frame: 'open' | 'closed' | 'extended' | 'thumb' = 'closed') =>
  thumbsOff(upright, position as HandPosition, frame);

describe('the thumb', () => {
  it.each([
    [1, [1]],
    [2, [-1, 1]],
    [6, [-1, 1]],
    // From the heel up it has no place of its own.
    [7, [-1]],
    [8, [-1]],
    [9, []],
    [12, []],
    // Nor below the first stop.
    [0, []],
    [-3, []],
  ])('of a hand in position %d can be off by %j', (position, expected) => {
    expect(off(position)).toEqual(expected);
  });

  it('is not off under a hand that is open, stretched or over it', () => {
    for (const frame of ['open', 'extended', 'thumb'] as const) expect(off(3, frame)).toEqual([]);
  });

  it('is where the hand is, or off it', () => {
    const position = handPosition(4);
    expect([thumbOf({}), thumbOf({ thumb: 1 }), thumbOf({ thumb: -1 })]).toEqual([0, 1, -1]);
    expect(thumbPlace({ position })).toBe(4);
    expect(thumbPlace({ position, thumb: -1 })).toBe(3);
    expect(thumbPlace({ position, thumb: 1 })).toBe(5);
  });
});
