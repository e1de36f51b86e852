import { describe, expect, it } from 'vitest';
import { barIndex } from '../../../src/music';
import { defaultInstrument } from '../../../src/instrument';
import { neckScale } from '../../../src/ui/travel/scale';
import { barAt, drawnBars, heightOfY, pathThrough, yOfHeight } from '../../../src/ui/wishes/heights';

const scale = neckScale(defaultInstrument, [], 100);
const bars = [
  { index: barIndex(4), x: 50, width: 100 },
  { index: barIndex(5), x: 150, width: 60 },
  { index: barIndex(6), x: 210, width: 60 },
];

describe('heights on a strip', () => {
  it('are low at the nut and high where the hand is at the octave', () => {
    expect(yOfHeight(scale, 0)).toBe(0);
    expect(yOfHeight(scale, 1)).toBeCloseTo(scale.y(12), 9);
    for (const height of [0, 0.25, 0.5, 1]) expect(heightOfY(scale, yOfHeight(scale, height))).toBe(height);
  });

  it('end where the strip does', () => {
    expect(heightOfY(scale, -20)).toBe(0);
    expect(heightOfY(scale, 1_000)).toBe(1);
  });

  it('belong to the bar of the chorus under the pointer', () => {
    const drawn = drawnBars(bars, (index) => index - 3, [{ bar: 2, height: 0.5 }]);
    expect(drawn.map(({ bar, height }) => [bar, height])).toEqual([
      [1, null],
      [2, 0.5],
      [3, null],
    ]);
    expect(barAt(drawn, 150)?.bar).toBe(2);
    expect(barAt(drawn, 149.9)?.bar).toBe(1);
    expect(barAt(drawn, 20)).toBeUndefined();
    expect(barAt(drawn, 270)).toBeUndefined();
  });

  it('are joined through the middles of the bars that have one', () => {
    const drawn = drawnBars(bars, (index) => index, [
      { bar: 4, height: 0 },
      { bar: 6, height: 0 },
    ]);
    expect(pathThrough(drawn, scale)).toBe('M100.0 0.0L240.0 0.0');
    expect(pathThrough([], scale)).toBe('');
  });
});
