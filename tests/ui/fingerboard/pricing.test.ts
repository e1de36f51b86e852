import { describe, expect, it } from 'vitest';
import type { StringNumber } from '../../../src/instrument';
import { neighbour, pricedSpots, type PricedPlacement } from '../../../src/ui/fingerboard/pricing';
import { priceText } from '../../../src/ui/fingerboard/words';
import { boards } from './boards';
import { madeLine } from './made-line';

describe('prices', () => {
  const priced = (
    string: number,
    stop: number,
    price: number,
    finger: '1' | '2' | '4' = '1',
  ): PricedPlacement => ({
    placement: {
      ...madeLine.notes[0]!.placement,
      string: string as StringNumber,
      stop: stop as never,
      finger,
    },
    price,
    pitchName: 'B♭1',
  });

  it('are one a spot, the cheapest, in order', () => {
    const spots = pricedSpots([priced(4, 6, 900), priced(3, 1, 300), priced(4, 6, 200, '4')]);
    expect(
      spots.map(({ string, stop, best, ways }) => [string, stop, best.price, best.placement.finger, ways]),
    ).toEqual([
      [4, 6, 200, '4', 2],
      [3, 1, 300, '1', 1],
    ]);
  });

  it('are walked through in the direction of the arrow on the screen, mirrored boards included', () => {
    for (const board of boards.slice(0, 2)) {
      const points = [2, 4, 5].map((stop) => board.point(2 as StringNumber, stop));
      const [towards, away] = board.leftHanded
        ? (['ArrowLeft', 'ArrowRight'] as const)
        : (['ArrowRight', 'ArrowLeft'] as const);
      expect(neighbour(points, 0, towards)).toBe(1);
      expect(neighbour(points, 2, away)).toBe(1);
      expect(neighbour(points, 2, towards)).toBe(2);
    }
    const tall = boards[2]!;
    const points = [2, 4].map((stop) => tall.point(2 as StringNumber, stop));
    expect(neighbour(points, 0, 'ArrowDown')).toBe(1);
  });

  it.each([
    [0, '0'],
    [-3, '0'],
    [40, '+0.0'],
    [720, '+0.7'],
    [1900, '+1.9'],
  ])('of %i thousandths read %s', (price, text) => {
    expect(priceText(price)).toBe(text);
  });
});
