import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import {
  alterationOf,
  degreeOf,
  intervalBetween,
  intervalName,
  letterOf,
  midiOf,
  nameOfPitchClass,
  noteName,
  parseNoteName,
  pitchClass,
  pitchClassOf,
  scientificName,
  plainNoteName,
  semitonesOf,
  simpleName,
  soundingMidi,
  spellPitch,
  transpose,
} from '../../src/music';

const names = [...'CDEFGAB'].flatMap((letter) =>
  ['', '#', '##', 'b', 'bb'].map((sign) => noteName(letter + sign)),
);
const anyName = fc.constantFrom(...names);

describe('note names', () => {
  test.each(['C', 'Bb', 'F##', 'Abb'])('%s is one', (text) => expect(parseNoteName(text)).toBe(text));
  test.each(['', 'H', 'c', 'B♭', 'Cbbb', 'C#b', 'C4', ' C'])('%j is not', (text) => {
    expect(parseNoteName(text)).toBeUndefined();
    expect(() => noteName(text)).toThrow(RangeError);
  });

  it('letter, alteration and pitch class', () => {
    const of = (text: string): unknown[] => {
      const name = noteName(text);
      return [letterOf(name), alterationOf(name), pitchClassOf(name)];
    };
    expect(of('Bb')).toEqual(['B', -1, 10]);
    expect(of('Cb')).toEqual(['C', -1, 11]);
    expect(of('B##')).toEqual(['B', 2, 1]);
  });

  it('plain names', () => {
    expect(['Abb', 'Fb', 'B##', 'C#'].map((text) => plainNoteName(noteName(text)))).toEqual([
      'G',
      'E',
      'C#',
      'C#',
    ]);
    expect(['Abb', 'Fb', 'Bb'].map((text) => simpleName(noteName(text)))).toEqual(['G', 'Fb', 'Bb']);
    expect(nameOfPitchClass(pitchClass(6), true)).toBe('F#');
    expect(nameOfPitchClass(pitchClass(6), false)).toBe('Gb');
  });
});

describe('intervals', () => {
  test.each([
    ['Bb', '3M', 'D'],
    ['F#', '7m', 'E'],
    ['C', '9A', 'D#'],
    ['Gb', '7d', 'Fbb'],
    // Three flats are respelled.
    ['Bbb', '7d', 'Gb'],
  ])('%s and a %s is %s', (name, interval, expected) => {
    expect(transpose(noteName(name), intervalName(interval))).toBe(expected);
  });

  it('has size and degree', () => {
    expect(['1P', '3m', '5d', '9M', '11A', '13m'].map((text) => semitonesOf(intervalName(text)))).toEqual([
      0, 3, 6, 14, 18, 20,
    ]);
    expect(degreeOf(intervalName('11A'))).toBe(11);
    expect(() => intervalName('x')).toThrow(RangeError);
  });

  const qualities = ['dddd', 'ddd', 'dd', 'd', 'm', 'P', 'M', 'A', 'AA', 'AAA', 'AAAA'];
  const isPerfect = (number: number): boolean => [1, 4, 5].includes(((number - 1) % 7) + 1);
  const intervals = Array.from({ length: 15 }, (_, index) => index + 1).flatMap((number) =>
    qualities
      .filter((quality) => !(isPerfect(number) ? ['m', 'M'] : ['P']).includes(quality))
      .map((quality) => intervalName(`${number}${quality}`)),
  );

  it.each(intervals)(
    '%s leads to the letter of its number and the pitch of its size, up and down',
    (interval) => {
      const steps = degreeOf(interval) - 1;
      for (const [by, sign] of [
        [interval, 1],
        [intervalName(`-${interval}`), -1],
      ] as const) {
        for (const name of names) {
          const there = transpose(name, by);
          expect(pitchClassOf(there)).toBe(pitchClass(pitchClassOf(name) + sign * semitonesOf(interval)));
          const letter = 'CDEFGAB'.at(('CDEFGAB'.indexOf(letterOf(name)) + sign * (steps % 7)) % 7)!;
          const needed = pitchClass(pitchClassOf(there) - pitchClassOf(noteName(letter)) + 6) - 6;
          // Spelled by letter as long as two accidentals are enough.
          if (Math.abs(needed) <= 2) expect([letterOf(there), alterationOf(there)]).toEqual([letter, needed]);
        }
      }
    },
  );

  it('the interval between two notes leads from one to the other', () => {
    fc.assert(
      fc.property(anyName, anyName, (from, to) => {
        expect(pitchClassOf(transpose(from, intervalBetween(from, to)))).toBe(pitchClassOf(to));
      }),
      { seed: 29 },
    );
  });
});

describe('spelled pitches', () => {
  test.each([
    [28, 'E', 'E1'],
    [46, 'Bb', 'Bb2'],
    // The octave is that of the letter.
    [47, 'Cb', 'Cb3'],
    [48, 'B#', 'B#2'],
  ])('%i as %s is %s', (midi, name, text) => {
    expect(scientificName(spellPitch(soundingMidi(midi), noteName(name)))).toBe(text);
  });

  it('sounds as it was', () => {
    fc.assert(
      fc.property(fc.integer({ min: 12, max: 115 }), anyName, (low, name) => {
        const midi = soundingMidi(low + ((pitchClassOf(name) - low) % 12));
        expect(midiOf(spellPitch(midi, name))).toBe(midi);
      }),
      { seed: 30 },
    );
  });
});
