// A bass with what its player changed: what is read, what is told, and what stays as it is in the list.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bassOf,
  defaultInstrument,
  findInstrument,
  instruments,
  lowestPitch,
  tuningLength,
  tuningText,
  type BassSetting,
} from '../../src/instrument';

const asListed: BassSetting = { id: 'bass-3/4', length: null, heel: null, tuning: null };
const bass = (changes: Partial<BassSetting>) => bassOf({ ...asListed, ...changes });
const openStrings = (tuning: string): readonly number[] =>
  bass({ tuning }).instrument.strings.map(({ open }) => open);

describe('a bass with what its player changed', () => {
  it('is the one of the list when nothing was', () => {
    for (const one of instruments) {
      const { instrument, problems } = bass({ id: one.id });
      expect(instrument).toBe(one);
      expect(problems).toEqual([]);
    }
    expect(bass({ id: 'none' }).instrument).toBe(defaultInstrument);
  });

  it('takes each change by itself and leaves the rest', () => {
    const { strings, name, heel, length } = defaultInstrument;
    expect(bass({ length: 1045 }).instrument).toEqual({ ...defaultInstrument, length: 1045 });
    expect(bass({ heel: 7 }).instrument).toEqual({ ...defaultInstrument, heel: 7 });
    expect(bass({ heel: 7.4 }).instrument.heel).toBe(7);
    expect(bass({ tuning: 'E1 A1 D2 G2' }).instrument).toMatchObject({ strings, heel, length });
    expect(bass({ tuning: 'E1 A1 D2 G2' }).instrument.name).toBe(`${name.split(',')[0]!}, own tuning`);
  });

  it('is the same bass with its own tuning typed', () => {
    expect(tuningText(defaultInstrument)).toBe('E1 A1 D2 G2');
    for (const one of instruments.filter(({ extension }) => !extension))
      expect(bass({ id: one.id, tuning: tuningText(one) }).instrument.strings).toEqual(one.strings);
  });

  it('loses its extension with another tuning and keeps it with another length', () => {
    expect(lowestPitch(bass({ id: 'bass-extension', length: 1080 }).instrument)).toBe(24);
    expect(lowestPitch(bass({ id: 'bass-extension', tuning: 'x' }).instrument)).toBe(24);
    expect(lowestPitch(bass({ id: 'bass-extension', tuning: 'E1 A1 D2 G2' }).instrument)).toBe(28);
  });
});

describe('a tuning', () => {
  it.each([
    ['C1, G1, D2, A2', [45, 38, 31, 24]],
    ['  E1   A1,,D2\tG2 ', [43, 38, 33, 28]],
    ['e1 a1 d2 g2', [43, 38, 33, 28]],
    ['B♭0 Eb1 Ab1 D♭2 F#2', [42, 37, 32, 27, 22]],
    ['F♯1 B1 E2', [40, 35, 30]],
    ['C0 E1 A1 D2 G2 G4', [67, 43, 38, 33, 28, 12]],
  ])('%j is strings of %j', (tuning, strings) => {
    expect(openStrings(tuning)).toEqual(strings);
    expect(bass({ tuning }).problems).toEqual([]);
  });

  it.each([
    ['', 'A bass has from 3 to 6 strings; the tuning names 0.'],
    ['E1 A1', 'the tuning names 2.'],
    ['B0 E1 A1 D2 G2 C3 F3', 'the tuning names 7.'],
    ['E1 A1 D2 H2', 'String 4 of the tuning, “H2”, is no note with its octave, such as E1.'],
    ['E A D G', 'String 1 of the tuning, “E”, is no note with its octave'],
    ['xE1 A1 D2 G2', 'String 1 of the tuning, “xE1”, is no note'],
    ['E1x A1 D2 G2', 'String 1 of the tuning, “E1x”, is no note'],
    ['E-1 A1 D2 G2', 'String 1 of the tuning, “E-1”, is no note'],
    ['aVeryLongWordInIt A1 D2 G2', 'String 1 of the tuning, “aVeryLongWor”, is no note'],
    ['B#-1 A1 D2 G2', 'String 1 of the tuning, “B#-1”, is no note'],
    ['Cb0 A1 D2 G2', 'String 1 of the tuning, “Cb0”, is out of the range of a bass.'],
    ['E1 A1 D2 G#4', 'String 4 of the tuning, “G#4”, is out of the range of a bass.'],
    [
      'G2 D2 A1 E1',
      'String 2 of the tuning, “D2”, is not above the string before it: name the lowest string first.',
    ],
    ['E1 A1 A1 G2', 'String 3 of the tuning, “A1”, is not above the string before it'],
    ['E1 G2 D2 F2', 'String 4 of the tuning, “F2”, is not above the string before it'],
  ])('%j is told: %s', (tuning, words) => {
    const { instrument, problems } = bass({ tuning });
    expect(problems.join(' ')).toContain(words);
    expect(instrument).toEqual(defaultInstrument);
  });

  it('is read so far as one is long', () => {
    const long = `E1 A1 D2 G2${' '.repeat(tuningLength)} C3`;
    expect(bass({ tuning: long }).instrument.strings).toHaveLength(4);
  });

  it('that is right is taken beside a length that is wrong', () => {
    const { instrument, problems } = bass({ length: 2, tuning: 'C1 G1 D2 A2' });
    expect(problems).toEqual(['The string length in mm must be from 850 to 1150, not 2.']);
    expect(instrument).toMatchObject({ length: defaultInstrument.length });
    expect(instrument.strings[0]!.open).toBe(45);
  });

  it('never throws, and what is wrong with a bass stays as it is in the list', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 60 }), fc.double(), fc.double(), (tuning, length, heel) => {
        const { instrument, problems } = bass({ tuning, length, heel });
        const isWrong = length < 850 || length > 1150 || Number.isNaN(length);
        if (isWrong) expect(instrument.length).toBe(defaultInstrument.length);
        expect(problems.length > 0 || (!isWrong && instrument.strings.length > 2)).toBe(true);
      }),
      { numRuns: 200, seed: 3 },
    );
  });
});

describe('length and heel', () => {
  it.each([
    [{ length: 850 }, 850, 8],
    [{ length: 1150 }, 1150, 8],
    [{ heel: 5 }, 1060, 5],
    [{ heel: 24 }, 1060, 24],
  ])('%j may be', (changes, length, heel) => {
    const { instrument, problems } = bass(changes);
    expect(problems).toEqual([]);
    expect(instrument).toMatchObject({ length, heel });
  });

  it.each([
    [{ length: 849 }, 'The string length in mm must be from 850 to 1150, not 849.'],
    [{ length: 1151 }, 'not 1151.'],
    [{ length: Number.NaN }, 'not NaN.'],
    [{ heel: 4 }, 'The semitone at the heel must be from 5 to 24, not 4.'],
    [{ heel: 25 }, 'not 25.'],
  ])('%j are told', (changes, words) => {
    const { instrument, problems } = bass(changes);
    expect(problems).toHaveLength(1);
    expect(problems[0]).toContain(words);
    expect(instrument).toEqual(findInstrument('bass-3/4'));
  });
});
