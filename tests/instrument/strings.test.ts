// What strings are called.
import { describe, expect, it } from 'vitest';
import {
  defaultInstrument,
  instruments,
  makeStrings,
  parseString,
  stringName,
  type Instrument,
  type StringNaming,
} from '../../src/instrument';

const namesOn = (instrument: Pick<Instrument, 'strings'>, naming?: StringNaming): readonly string[] =>
  instrument.strings.map(({ number }) => stringName(instrument, number, naming));
/** Two strings of one letter, an octave apart. */
const twoEs = { strings: makeStrings([43, 40, 33, 28]) };

describe('a string', () => {
  it('is called by the letter it is tuned to, or by its numeral from the highest', () => {
    expect(namesOn(defaultInstrument)).toEqual(['G', 'D', 'A', 'E']);
    expect(namesOn(defaultInstrument, 'numerals')).toEqual(['I', 'II', 'III', 'IV']);
  });

  it('says its sounding octave where another has its letter', () => {
    expect(namesOn(twoEs)).toEqual(['G', 'E2', 'A', 'E1']);
  });

  it('is called as notes are', () => {
    const flat = { strings: makeStrings([42, 37, 34, 27]) };
    const signed = (name: string): string => name.replace('b', '♭').replace('#', '♯');
    expect(flat.strings.map(({ number }) => stringName(flat, number, 'letters', signed))).toEqual([
      'F♯',
      'D♭',
      'B♭',
      'E♭',
    ]);
  });

  it('is read by each of its names, on every bass', () => {
    for (const bass of [...instruments, twoEs])
      for (const { number } of bass.strings)
        for (const naming of ['letters', 'numerals'] as const)
          expect(parseString(bass, stringName(bass, number, naming).toLowerCase())).toBe(number);
  });

  it('is not guessed', () => {
    expect(parseString(twoEs, 'E')).toBeUndefined();
    expect(parseString(defaultInstrument, 'B')).toBeUndefined();
    expect(parseString(defaultInstrument, '')).toBeUndefined();
  });
});
