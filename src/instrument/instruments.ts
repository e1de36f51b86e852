// The basses we know, read from data.
import table from '../../shared/instruments/instruments.json' with { type: 'json' };
import { millimetres, pitchClass, semitones, soundingMidi } from '../music';
import type { BassString, Instrument, StringNumber } from './types';

const numerals = ['I', 'II', 'III', 'IV', 'V', 'VI', 'VII', 'VIII'] as const;
const openNames = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'] as const;

/** I for the highest string. */
export const stringNumeral = (string: StringNumber): string => numerals[string - 1] ?? String(string);

/** The strings of a bass from the sounding pitches of its open strings, highest first. */
export function makeStrings(open: readonly number[]): readonly BassString[] {
  return open.map((pitch, index) => {
    const number = (index + 1) as StringNumber;
    const name = openNames[pitchClass(pitch)]!;
    return { number, numeral: stringNumeral(number), open: soundingMidi(pitch), name };
  });
}

export const instruments: readonly Instrument[] = table.rows.map((row) => ({
  id: row.id,
  name: row.name,
  length: millimetres(row.length),
  strings: makeStrings(row.strings),
  heel: semitones(row.heel),
  highestStop: semitones(row.highestStop),
  ...(row.extension && {
    extension: {
      string: row.extension.string as StringNumber,
      lowest: soundingMidi(row.extension.lowest),
    },
  }),
  ...(row.fretted && { fretted: true }),
}));

export const defaultInstrument: Instrument = instruments[0]!;

/** String lengths a player may enter, in mm. */
export const lengthRange = {
  least: millimetres(table.lengthRange.least),
  most: millimetres(table.lengthRange.most),
};

/** Undefined when no instrument has that id. */
export const findInstrument = (id: string): Instrument | undefined =>
  instruments.find((one) => one.id === id);

/** The same bass with another string length; every distance on it follows. */
export const withLength = (instrument: Instrument, length: number): Instrument => ({
  ...instrument,
  length: millimetres(length),
});
