// From what is typed to plain letters: each sign of the table, and the place of every letter.
import { describe, expect, it } from 'vitest';
import data from '../../../shared/chords/characters.json' with { type: 'json' };
import { isSignAt, plainText } from '../../../src/music/chord/characters';

describe('plain letters', () => {
  it('stand for every sign of the table, wherever it is', () => {
    for (const { characters, plain } of data.rows)
      for (const character of characters) {
        const { text, at } = plainText(`C${character}7`);
        expect(text).toBe(`C${plain.replace(/\s/gu, ' ')}7`);
        // Each letter of it was typed in one place, and what follows comes after the sign.
        expect(at).toEqual([0, ...[...plain].map(() => 1), 1 + character.length, 2 + character.length]);
      }
  });

  it('are themselves from the blank to the tilde, and blanks what comes before', () => {
    const untouched = Array.from({ length: 95 }, (_, index) => String.fromCharCode(32 + index)).filter(
      (character) => !data.rows.some(({ characters }) => characters.includes(character)),
    );
    expect(untouched).toContain('~');
    for (const character of untouched) expect(plainText(character).text).toBe(character);
    expect(plainText('\t\u0001\n').text).toBe('   ');
    expect(plainText('').at).toEqual([0]);
  });

  it('stand for wide letters and raised figures, one sign or two units long', () => {
    expect(plainText('Ｃ⁷').text).toBe('C7');
    expect(plainText('C¼')).toEqual({
      text: `C${[...'1⁄4'].map((part) => plainText(part).text).join('')}`,
      at: [0, 1, 1, 1, 2],
    });
    expect(plainText('𝐂7')).toEqual({ text: 'C7', at: [0, 2, 3] });
  });

  it('tell a sign from the letter that stands for it', () => {
    const typed = 'B♭b';
    const plain = plainText(typed);
    expect(plain.text).toBe('Bbb');
    expect([0, 1, 2].map((place) => isSignAt(typed, plain, place))).toEqual([false, true, false]);
    // A wide B is the note, and there is nothing past the end.
    expect(isSignAt('Ｂ', plainText('Ｂ'), 0)).toBe(false);
    expect(isSignAt('C', plainText('C'), 1)).toBe(true);
  });
});
