// A bass with what its player changed, and positions in other schools' names.
import { describe, expect, it } from 'vitest';
import {
  bassOf,
  defaultInstrument,
  handPosition,
  instruments,
  lowestPitch,
  namedPosition,
  ownBass,
  shortNamedPosition,
  tuningText,
} from '../../src/instrument';

const asListed = { length: null, heel: null, tuning: null };

describe('a bass with what its player changed', () => {
  it('is the one of the list when nothing was', () => {
    for (const { id } of instruments) {
      const { instrument, problems } = bassOf({ id, ...asListed });
      expect(instrument.id).toBe(id);
      expect(problems).toEqual([]);
    }
  });

  it('takes length, heel and tuning, and is the same bass with its own tuning typed', () => {
    const { instrument } = bassOf({ id: 'bass-4/4', length: 1045, heel: 7, tuning: 'E1 A1 D2 G2' });
    expect(instrument).toMatchObject({ length: 1045, heel: 7 });
    expect(instrument.strings).toEqual(defaultInstrument.strings);
    for (const one of instruments.filter(({ extension }) => !extension)) {
      const typed = ownBass({ name: 'x', tuning: tuningText(one), length: one.length, heel: one.heel });
      expect(typed.instrument?.strings).toEqual(one.strings);
    }
  });

  it('loses its extension with another tuning and keeps it with another length', () => {
    expect(lowestPitch(bassOf({ id: 'bass-extension', ...asListed, length: 1080 }).instrument)).toBe(24);
    expect(lowestPitch(bassOf({ id: 'bass-extension', ...asListed, tuning: 'E1 A1 D2 G2' }).instrument)).toBe(
      28,
    );
  });

  it('says what is wrong and stays a bass', () => {
    const { instrument, problems } = bassOf({ id: 'none', length: 2, heel: 99, tuning: 'x' });
    expect(problems).toHaveLength(3);
    expect(instrument.strings).toEqual(defaultInstrument.strings);
    expect(instrument.length).toBe(defaultInstrument.length);
  });
});

describe('positions in the names of other schools (from memory)', () => {
  it('lie between two whole-numbered ones, the rest as usual', () => {
    const names = [1, 2, 4, 6, 8, 9, 11, 12].map((one) =>
      namedPosition(defaultInstrument, handPosition(one), 'intermediate'),
    );
    expect(names).toEqual(['half', 'I', 'II–III', 'III–IV', 'V', 'V–VI', 'VI–VII', 'VII']);
  });

  it('are short on the page, a note where notes are asked for', () => {
    expect(shortNamedPosition(defaultInstrument, handPosition(1), 'both')).toBe('half');
    expect(shortNamedPosition(defaultInstrument, handPosition(6), 'first-finger note')).toBe('D♭');
  });
});
