// What stands around a chord, what is said of a doubtful one, and what is said of a text that is none: the code, the place and
// what its sentence is filled with. Common practice, no source.
import { describe, expect, it, test } from 'vitest';
import { longestSymbol, parseChord } from '../../../src/music';

/** Without the text itself, which every remark has. */
const filled = ({ symbol: _symbol, ...values }: Readonly<Record<string, string>> = {}): object => values;

type Told = readonly [code: string, at: number, length: number, values: object];

describe('a chord', () => {
  test.each<[string, string, boolean, readonly Told[]]>([
    [' C7 ', 'C7', false, []],
    ['C7,', 'C7', false, []],
    ['C7.', 'C7', false, []],
    ['C7*;', 'C7', false, []],
    ['C7?', 'C7', false, [['uncertain', 2, 1, { reading: 'C7' }]]],
    ['C7 ?!', 'C7', false, [['uncertain', 2, 3, { reading: 'C7' }]]],
    ['(C7)', 'C7', true, []],
    ['((C7))', 'C7', true, []],
    ['( C7 )', 'C7', true, []],
    ['[C7,]', 'C7', true, []],
    ['{C7}', 'C7', true, []],
    ['(C7)?', 'C7', true, [['uncertain', 3, 2, { reading: 'C7' }]]],
    ['C7(b9)', 'C7b9', false, []],
    ['C/G', 'C/G', false, []],
    ['C\\G', 'C/G', false, []],
    ['C/ G', 'C/G', false, []],
    ['C over G', 'C/G', false, []],
    ['C OVER G', 'C/G', false, []],
    ['C on Bb', 'C/Bb', false, []],
    ['C/B', 'C/B', false, []],
    ['(C/E)', 'C/E', true, []],
    ['C(/E)', 'C/E', false, []],
    ['C7 (/E)', 'C7/E', false, []],
    ['C7[/E]', 'C7/E', false, []],
    ['C(/E', 'C/E', false, [['bracket-open', 1, 3, { reading: 'C/E' }]]],
    ['C/♭7', 'C7', false, []],
    ['A7', 'A7', false, []],
    ['E7', 'E7', false, []],
    ['d7', 'D7', false, [['lower-case', 0, 1, { reading: 'D7', root: 'D', other: 'D' }]]],
    ['dm', 'Dm', false, [['lower-case', 0, 1, { reading: 'Dm', root: 'D', other: 'D' }]]],
    ['b7', 'B7', false, [['b-root', 0, 1, { reading: 'B7', root: 'B', other: 'B' }]]],
    ['C##', 'C##', false, [['root-double', 0, 3, { reading: 'C##', root: 'C##', other: 'C####' }]]],
    ['Cbb', 'Cbb', false, [['root-double', 0, 3, { reading: 'Cbb', root: 'Cbb', other: 'Cbbbb' }]]],
    ['Abb5', 'Ab(b5)', false, [['root-alteration', 0, 2, { reading: 'Ab(b5)', root: 'Ab', other: 'Abb' }]]],
    ['Ab5', 'Ab5', false, []],
    ['Bbb7', 'Bbbdom7', false, [['root-double', 0, 3, { reading: 'Bbbdom7', root: 'Bbb', other: 'Bbbbb' }]]],
    ['C#5', 'C#5', false, [['root-or-alteration', 0, 3, { root: 'C#', other: 'C(#5)' }]]],
    ['C#11', 'C#11', false, [['root-or-alteration', 0, 4, { root: 'C#', other: 'C(#11)' }]]],
    ['C#9', 'C#9', false, []],
    ['C#13', 'C#13', false, []],
    ['C#7', 'C#7', false, []],
    ['C#m11', 'C#m11', false, []],
    ['E#9', 'E#9', false, [['root-or-alteration', 0, 3, { root: 'E#', other: 'E(#9)' }]]],
    ['E#13', 'E#13', false, [['root-or-alteration', 0, 4, { root: 'E#', other: 'E(#13)' }]]],
    ['B#5', 'B#5', false, [['root-or-alteration', 0, 3, { root: 'B#', other: 'B(#5)' }]]],
    ['Cb5', 'Cb5', false, [['root-or-alteration', 0, 3, { root: 'Cb', other: 'C(b5)' }]]],
    ['Cb9', 'Cb9', false, [['root-or-alteration', 0, 3, { root: 'Cb', other: 'C(b9)' }]]],
    ['Cb7', 'Cb7', false, []],
    ['Fb13', 'Fb13', false, [['root-or-alteration', 0, 4, { root: 'Fb', other: 'F(b13)' }]]],
    ['Bb5', 'Bb5', false, []],
    ['Db11', 'Db11', false, []],
    ['CΔ', 'Cmaj7', false, [['triangle', 1, 1, { reading: 'Cmaj7' }]]],
    [
      'C7(b9?',
      'C7b9',
      false,
      [
        ['bracket-open', 1, 4, { reading: 'C7b9' }],
        ['uncertain', 5, 1, { reading: 'C7b9' }],
      ],
    ],
    ['G7 alt.', 'G7alt', false, []],
    ['Go', 'Gdim', false, []],
  ])('%j is %s', (text, symbol, optional, told) => {
    const reading = parseChord(text);
    if (reading.kind !== 'chord') throw new Error(`${text} is ${reading.kind}`);
    expect(reading.chord.symbol).toBe(symbol);
    expect(reading.optional).toBe(optional);
    expect(
      reading.remarks.map(({ code, at, length, values }) => [
        code.replace('chord-', ''),
        at,
        length,
        filled(values),
      ]),
    ).toEqual(told);
    for (const { values } of reading.remarks) expect(values?.symbol).toBe(text.trim());
  });
});

describe('no chord and a bass alone', () => {
  test.each(['N . C .', 'N/C', 'no chord', '(NC)'])('%j', (text) =>
    expect(parseChord(text)).toEqual({ kind: 'no chord' }),
  );
  test.each([
    ['/G', 'G'],
    ['/ Bb', 'Bb'],
    ['(/E)', 'E'],
  ])('%j', (text, bass) => expect(parseChord(text)).toEqual({ kind: 'bass only', bass }));
});

describe('what is no chord', () => {
  test.each<[string, ...Told]>([
    ['()', 'empty', 0, 2, {}],
    ['( )', 'empty', 0, 3, {}],
    ['?', 'empty', 0, 1, {}],
    ['(', 'no-root', 0, 1, { example: 'C7' }],
    ['(C7', 'no-root', 0, 3, { example: 'C7' }],
    ['(C)7)', 'no-root', 0, 5, { example: 'C7' }],
    ['(C7)(b9)', 'no-root', 0, 8, { example: 'C7' }],
    ['over G', 'not-a-chord', 0, 6, { example: 'C7' }],
    [' on G', 'not-a-chord', 1, 4, { example: 'C7' }],
    ['C over H', 'unknown', 3, 1, { part: 'ver H', root: 'C' }],
    ['C/E)', 'bass', 2, 2, { part: 'E)', root: 'C' }],
    ['C7((/E))', 'bass', 5, 3, { part: 'E))', root: 'C' }],
    ['C7(b9/E)', 'bass', 6, 2, { part: 'E)', root: 'C' }],
    ['C/♭', 'bass', 2, 1, { part: 'b', root: 'C' }],
    ['♭7', 'no-root', 0, 2, { example: 'C(b7)' }],
    ['#11', 'no-root', 0, 3, { example: 'C(#11)' }],
    ['♭', 'not-a-chord', 0, 1, { example: 'C7' }],
    ['m7', 'no-root', 0, 2, { example: 'Cm7' }],
    ['h7', 'no-root', 0, 2, { example: 'Ch7' }],
    ['h9', 'no-root', 0, 2, { example: 'Ch9' }],
    ['7', 'no-root', 0, 1, { example: 'C7' }],
    ['alt', 'no-root', 0, 3, { example: 'Calt' }],
    ['3x', 'no-root', 0, 2, { example: 'C7' }],
    ['x', 'not-a-chord', 0, 1, { example: 'C7' }],
    ['verse', 'not-a-chord', 0, 5, { example: 'C7' }],
    ['H7', 'german-h', 0, 1, { instead: 'B7' }],
    ['h', 'german-h', 0, 1, { instead: 'B' }],
    ['Hm7b5', 'german-h', 0, 1, { instead: 'Bm7b5' }],
    ['H7/G', 'german-h', 0, 1, { instead: 'B7/G' }],
    ['H/Bb', 'german-h', 0, 1, { instead: 'B/Bb' }],
    ['Hx', 'not-a-chord', 0, 2, { example: 'C7' }],
    ['C/h', 'german-h', 2, 1, { instead: 'B' }],
    ['C/ H', 'german-h', 3, 1, { instead: 'B' }],
    ['C/His', 'german-h', 2, 1, { instead: 'B' }],
    ['C/Hb', 'german-h', 2, 1, { instead: 'B' }],
    ['C/H7', 'german-h', 2, 1, { instead: 'B' }],
    ['C/Hm', 'german-h', 2, 1, { instead: 'B' }],
    ['%', 'sign', 0, 1, {}],
    ['//', 'sign', 0, 2, {}],
    ['?%', 'sign', 0, 2, {}],
    ['C###', 'root-accidentals', 0, 4, {}],
    ['Cbbb7', 'root-accidentals', 0, 5, {}],
    ['A1', 'section-label', 0, 2, { part: '1', root: 'A' }],
    ['A12', 'unknown', 1, 1, { part: '12', root: 'A' }],
    ['a1', 'unknown', 1, 1, { part: '1', root: 'A' }],
    ['dim7x', 'not-a-chord', 0, 5, { part: 'im7x', root: 'D' }],
    ['add x', 'not-a-chord', 0, 5, { part: 'dd x', root: 'A' }],
    ['C7xyzabcdefghijklmnop', 'unknown', 2, 1, { part: 'xyzabcdefghi', root: 'C' }],
    ['Cmaj7 Dm7', 'unknown', 6, 1, { part: 'Dm7', root: 'C' }],
    ['Chorus', 'not-a-chord', 0, 6, { part: 'horus', root: 'C' }],
    ['Codax', 'not-a-chord', 0, 5, { part: 'dax', root: 'C' }],
    ['Coda x', 'not-a-chord', 0, 6, { part: 'da x', root: 'C' }],
    ['Cod', 'not-a-chord', 0, 3, { part: 'd', root: 'C' }],
    ['Co x', 'unknown', 3, 1, { part: 'x', root: 'C' }],
    ['Ad', 'not-a-chord', 0, 2, {}],
    ['Ema', 'not-a-chord', 0, 3, {}],
    ['go', 'not-a-chord', 0, 2, {}],
    ['C/Eb7', 'bass', 2, 3, { part: 'Eb7', root: 'C' }],
    ['C/e7', 'bass', 2, 2, { part: 'e7', root: 'C' }],
    ['C/G#m', 'bass', 2, 3, { part: 'G#m', root: 'C' }],
    ['C/xy', 'unknown', 2, 1, { part: 'xy', root: 'C' }],
    ['C/ x', 'unknown', 3, 1, { part: 'x', root: 'C' }],
    ['EB7', 'capital-flat', 1, 1, { instead: 'Eb7' }],
    ['eBm', 'capital-flat', 1, 1, { instead: 'Ebm' }],
    ['EB', 'capital-flat', 1, 1, { instead: 'Eb' }],
    ['ABC', 'capital-flat', 1, 1, { instead: 'AbC' }],
    ['BB7', 'capital-flat', 1, 1, { instead: 'Bb7' }],
    ['C7B', 'unknown', 2, 1, { part: 'B', root: 'C' }],
  ])('%j is %s', (text, code, at, length, values) => {
    const reading = parseChord(text);
    if (reading.kind !== 'refused') throw new Error(`${text} is ${reading.kind}`);
    expect([reading.code.replace('chord-', ''), reading.at, reading.length, filled(reading.values)]).toEqual([
      code,
      at,
      length,
      values,
    ]);
    expect(reading.values?.symbol).toBe(text.trim());
  });
});

describe('what is too long', () => {
  const long = `C7 ${' '.repeat(longestSymbol - 10)}xyz`;

  it('is told by its beginning and by what is over', () => {
    expect(parseChord(` ${'C7b9 '.repeat(40)}`)).toEqual({
      kind: 'refused',
      code: 'chord-too-long',
      at: longestSymbol,
      length: 201 - longestSymbol,
      values: { symbol: 'C7b9 C7b9 C7b9 C7b9…' },
    });
  });

  it('begins one character after what is read', () => {
    expect(parseChord(long.padEnd(longestSymbol))).toMatchObject({ code: 'chord-unknown' });
    expect(parseChord(long.padEnd(longestSymbol + 1))).toMatchObject({ code: 'chord-too-long', length: 1 });
  });
});
