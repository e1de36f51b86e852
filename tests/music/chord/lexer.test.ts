// The pieces of a chord symbol after its root: what each says, where it begins and where it ends.
import { describe, expect, it, test } from 'vitest';
import { tokenise, type Token } from '../../../src/music/chord/lexer';

const said = (token: Token): string => {
  if (token.kind === 'number') return String(token.number);
  if (token.kind === 'accidental') return `alter ${token.alter}`;
  if (token.kind !== 'mode') return token.kind;
  return `mode(${token.alone.map(said).join(' ')}|${token.after.map(said).join(' ')})`;
};
const pieces = (text: string, from = 0): string => tokenise(text, from).map(said).join(' ');
const places = (text: string, from = 0): string =>
  tokenise(text, from)
    .map(({ start, end }) => `${start}-${end}`)
    .join(' ');

describe('signs', () => {
  // Common practice, no source.
  test.each([
    ['+', 'plus'],
    ['-', 'minus'],
    ['(', 'open'],
    ['[', 'open'],
    ['{', 'open'],
    [')', 'close'],
    [']', 'close'],
    ['}', 'close'],
    [',', 'comma'],
    [';', 'comma'],
    ['&', 'comma'],
    ['/', 'slash'],
    ['\\', 'slash'],
    [' ', 'blank'],
    ['.', 'blank'],
    ['^', 'triangle'],
    ['ø', 'halfDiminished'],
    ['°', 'diminished'],
    ['o', 'diminished'],
    ['0', 'diminished'],
    ['?', 'unknown'],
    ['#', 'alter 1'],
    ['##', 'alter 2'],
    ['b', 'alter -1'],
    ['bb', 'alter -2'],
  ])('%s is %s', (text, kind) => {
    expect(pieces(text)).toBe(kind);
    expect(tokenise(text)[0]).toMatchObject({ start: 0, end: text.length });
  });

  it('are one accidental while they are alike', () => {
    expect(pieces('b#')).toBe('alter -1 alter 1');
    expect(places('bb##')).toBe('0-2 2-4');
  });
});

describe('degrees', () => {
  test.each([
    ['2', '2'],
    ['7', '7'],
    ['10', '10'],
    ['11', '11'],
    ['13', '13'],
    ['69', '6 9'],
    ['67', '6 7'],
    ['24', '2 4'],
    ['42', '4 2'],
    ['47', '4 7'],
    ['74', '7 4'],
    ['79', '7 9'],
    ['711', '7 11'],
    ['713', '7 13'],
    ['911', '9 11'],
    ['913', '9 13'],
    ['1113', '11 13'],
    ['71113', '7 11 13'],
  ])('%s is %s', (text, numbers) => expect(pieces(text)).toBe(numbers));

  // No degree, and none hides in them.
  test.each(['1', '8', '12', '15', '25', '83', '135', '1113113'])('%s is not known', (text) =>
    expect(pieces(text)).toContain('unknown'),
  );

  it('take their ending with them', () => {
    expect(places('7th')).toBe('0-3');
    expect(places('11TH')).toBe('0-4');
    expect(places('2nd3rd')).toBe('0-3 3-6');
    expect(places('7t')).toBe('0-1 1-2');
    expect(pieces('7t')).toBe('7 unknown');
    // The ending of a word that comes later is not theirs.
    expect(places('7 th')).toBe('0-1 1-2 2-3 3-4');
  });

  it('are read as words', () => {
    expect(pieces('Seventh')).toBe('7');
    expect(pieces('flat five')).toBe('alter -1 blank 5');
    expect(places('flat five')).toBe('0-4 4-5 5-9');
  });
});

describe('words', () => {
  test.each([
    ['m', 'minor'],
    ['M', 'major'],
    ['MAJ', 'major'],
    ['Min', 'minor'],
    ['dominant', 'dominant'],
    ['susp', 'suspended'],
    ['without', 'omit'],
    ['Altered', 'altered'],
    ['half dim', 'halfDiminished'],
    ['n', 'alter 0'],
    ['natural', 'alter 0'],
    ['N', 'unknown'],
  ])('%s is %s', (text, kind) => expect(pieces(text)).toBe(kind));

  it('are as long as they can be', () => {
    expect(places('major7')).toBe('0-5 5-6');
    expect(places('ma7')).toBe('0-2 2-3');
    expect(places('suspended4')).toBe('0-9 9-10');
    expect(places('half-diminished7')).toBe('0-15 15-16');
  });

  it('leave the letter that begins the next one', () => {
    expect(pieces('madd9')).toBe('minor add 9');
    expect(pieces('maug')).toBe('minor augmented');
    expect(pieces('malt')).toBe('minor altered');
    expect(pieces('mADD9')).toBe('minor add 9');
    expect(pieces('add9')).toBe('add 9');
  });

  it('count before a degree alone where they could be something else', () => {
    expect(pieces('j7')).toBe('major 7');
    expect(pieces('J9')).toBe('major 9');
    expect(pieces('j')).toBe('unknown');
    expect(pieces('jm')).toBe('unknown minor');
    expect(pieces('j:')).toBe('unknown unknown');
  });

  it('count right after the root alone where another chord could begin', () => {
    expect(pieces('Cd7', 1)).toBe('diminished 7');
    expect(pieces('Cd', 1)).toBe('unknown');
    expect(pieces('Cdm', 1)).toBe('unknown minor');
    expect(pieces('C d7', 1)).toBe('blank unknown 7');
    expect(pieces('Ch7', 1)).toBe('halfDiminished 7');
    expect(pieces('Ch', 1)).toBe('halfDiminished');
    expect(pieces('Chm', 1)).toBe('unknown minor');
    expect(pieces('Cmh', 1)).toBe('minor unknown');
  });
});

describe('modes', () => {
  it('are read as the symbols they stand for, at the place of their name', () => {
    expect(pieces('dorian')).toBe('mode(minor 7|)');
    expect(pieces('7 Lydian')).toBe('7 blank mode(major 7 alter 1 11|alter 1 11)');
    expect(pieces('phr')).toBe('mode(7 suspended 4 alter -1 9|suspended 4 alter -1 9)');
    const [mode] = tokenise('Clocrian', 1);
    expect(mode).toMatchObject({ kind: 'mode', start: 1, end: 8 });
    if (mode?.kind !== 'mode') throw new Error('locrian is a mode');
    expect([...mode.alone, ...mode.after].map(({ start, end }) => [start, end])).toEqual(
      Array.from({ length: 6 }, () => [1, 8]),
    );
  });
});

describe('a text', () => {
  it('is cut whole, from the root on, one piece after another', () => {
    for (const text of ['Bbm7b5/Ab', 'C7(#5,#9)', 'F#half dim', 'xyz', 'C']) {
      const tokens = tokenise(text, 1);
      expect(tokens[0]?.start ?? text.length).toBe(1);
      for (const [index, { end }] of tokens.entries()) {
        expect(tokens[index + 1]?.start ?? text.length).toBe(end);
      }
    }
    expect(tokenise('C', 1)).toEqual([]);
    expect(tokenise('')).toEqual([]);
  });
});
