import { describe, expect, it, test } from 'vitest';
import {
  barAfter,
  barIndex,
  barIndices,
  barNumber,
  barsBetween,
  bpm,
  derivedSeed,
  indexOfBar,
  milli,
  millimetres,
  numberOfBar,
  pitchClass,
  seconds,
  secondsOf,
  seededRandom,
  semitones,
  soundingMidi,
  ticks,
  toSounding,
  toWritten,
} from '../../src/music';

describe('units', () => {
  it('the bass is written an octave above its sound', () => {
    expect(toWritten(soundingMidi(28))).toBe(40);
    expect(toSounding(toWritten(soundingMidi(33)))).toBe(33);
  });

  it('time in seconds follows the tempo', () => {
    expect(secondsOf(ticks(480), bpm(120))).toBe(0.5);
    expect(secondsOf(ticks(1920), bpm(60))).toBe(4);
  });

  it('pitch classes wrap both ways', () => {
    expect([-1, 12, 25].map(pitchClass)).toEqual([11, 0, 1]);
  });

  it('bars are counted from 0 by the program and from 1 by people', () => {
    expect(numberOfBar(barIndex(0))).toBe(1);
    expect(indexOfBar(barNumber(12))).toBe(11);
    expect(barIndices(3)).toEqual([0, 1, 2]);
    expect(barIndices(3).map((bar) => indexOfBar(numberOfBar(bar)))).toEqual([0, 1, 2]);
    expect(barAfter(barIndex(4))).toBe(5);
    expect(barsBetween(barIndex(2), barIndex(4))).toEqual([2, 3, 4]);
    expect(barsBetween(barIndex(4), barIndex(3))).toEqual([]);
  });

  it('costs are whole numbers', () => expect(milli(1.6)).toBe(2));

  const bad: readonly (readonly [string, () => unknown])[] = [
    ['a bar before the first', () => barIndex(-1)],
    ['half a bar', () => barNumber(1.5)],
    ['MIDI 128', () => soundingMidi(128)],
    ['half a semitone', () => semitones(0.5)],
    ['negative ticks', () => ticks(-1)],
    ['negative seconds', () => seconds(-1)],
    ['endless millimetres', () => millimetres(Number.POSITIVE_INFINITY)],
    ['a tempo of 39', () => bpm(39)],
    ['a tempo of 321', () => bpm(321)],
    ['no tempo', () => bpm(Number.NaN)],
  ];
  test.each(bad)('%s is refused', (_, make) => expect(make).toThrow(RangeError));
});

describe('seeded random', () => {
  const draw = (seed: number, count: number): number[] => {
    const random = seededRandom(seed);
    return Array.from({ length: count }, random);
  };

  it('repeats itself for a seed and differs for another', () => {
    expect(draw(7, 20)).toEqual(draw(7, 20));
    expect(draw(7, 20)).not.toEqual(draw(8, 20));
    expect(derivedSeed(7, 0)).not.toBe(derivedSeed(7, 1));
  });

  it('spreads evenly from 0 up to 1', () => {
    const counts = new Array<number>(10).fill(0);
    const values = draw(1, 10_000);
    for (const value of values) counts[Math.floor(value * 10)]! += 1;
    expect(Math.min(...values)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...values)).toBeLessThan(1);
    // Nine degrees of freedom: 33.7 is the 99.99th percentile of chi-square (any table of it).
    const chiSquare = counts.reduce((sum, count) => sum + (count - 1000) ** 2 / 1000, 0);
    expect(chiSquare).toBeLessThan(33.7);
  });
});
