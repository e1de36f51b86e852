import { describe, expect, it, test } from 'vitest';
import { makeChord, parseChord, type Chord } from '../../../src/music';

const notes = (symbol: string): string =>
  makeChord(symbol)
    .tones.map((tone) => tone.note)
    .join(' ');
const remarks = (symbol: string): readonly string[] => {
  const reading = parseChord(symbol);
  return reading.kind === 'chord' ? reading.remarks.map((remark) => remark.code) : ['not a chord'];
};
const refusal = (symbol: string): { code: string; at: number; length: number } => {
  const reading = parseChord(symbol);
  if (reading.kind !== 'refused') throw new Error(`${symbol} was read`);
  return { code: reading.code, at: reading.at, length: reading.length };
};
const same = (a: string, b: string): void =>
  expect(makeChord(a).symbol, `${a} = ${b}`).toBe(makeChord(b).symbol);

describe('punctuation', () => {
  // Brackets, commas and blanks say nothing (common practice, no source).
  test.each([
    ['C7(b9)', 'C7b9'],
    ['Cm7(b5)', 'Cm7b5'],
    ['C(add9)', 'Cadd9'],
    ['Cm(maj7)', 'CmMaj7'],
    ['C7(#5,#9)', 'C7#5#9'],
    ['C7(b9)(b13)', 'C7b9b13'],
    ['C7[b9, 13]', 'C13b9'],
    ['C7(sus4)', 'C7sus4'],
    ['C7(alt)', 'C7alt'],
    ['C 7 b9', 'C7b9'],
    ['C7-b9', 'C7b9'],
  ])('%s is %s', same);

  it('takes brackets around the whole as optional', () => {
    expect(parseChord('(C7)')).toMatchObject({ kind: 'chord', optional: true, chord: { symbol: 'C7' } });
    expect(parseChord('[Bb7/D]')).toMatchObject({
      kind: 'chord',
      optional: true,
      chord: { symbol: 'Bb7/D' },
    });
    expect(parseChord('C7(b9)')).toMatchObject({ optional: false });
  });

  it('reads the likely chord when a bracket is left open, and says so', () => {
    expect(makeChord('C7(b9').symbol).toBe('C7b9');
    expect(remarks('C7(b9')).toEqual(['chord-bracket-open']);
    expect(refusal('C7b9)')).toEqual({ code: 'chord-bracket', at: 4, length: 1 });
    expect(refusal('C7()')).toEqual({ code: 'chord-bracket', at: 3, length: 1 });
  });

  it('keeps what was typed', () => {
    expect(makeChord(' B♭−7 ')).toMatchObject({ symbol: 'Bbm7', typed: ' B♭−7 ' });
  });
});

describe('signs of print', () => {
  // Unicode and SMuFL signs stand for what they picture.
  test.each([
    ['B♭7', 'Bb7'],
    ['F♯m7', 'F#m7'],
    ['Cø7', 'Cm7b5'],
    ['C∅7', 'Cm7b5'],
    ['C△7', 'Cmaj7'],
    ['C∆7', 'Cmaj7'],
    ['CΔ7', 'Cmaj7'],
    ['C−7', 'Cm7'],
    ['C–7', 'Cm7'],
    ['Cº7', 'Cdim7'],
    ['C7♭9', 'C7b9'],
    ['D/F♯', 'D/F#'],
    ['C⁷', 'C7'],
    ['C⁶⁄₉', 'C69'],
    ['Ｃｍ７', 'Cm7'],
    ['B♭\uFE0F7', 'Bb7'],
    ['C\uE870\u2077', 'Cdim7'],
  ])('%s is %s', same);

  it('a flat sign is not the note B', () => {
    expect(refusal('♭9').code).toBe('chord-no-root');
    expect(refusal('C/♭').code).toBe('chord-bass');
  });

  it('places faults in what was typed, not in what it became', () => {
    // Two UTF-16 units for the double flat, one for the rest.
    expect(refusal('B𝄫7x')).toEqual({ code: 'chord-unknown', at: 4, length: 1 });
  });
});

describe('one letter, two meanings', () => {
  test.each([
    ['Ab5', 'Ab5', []],
    ['Bb9', 'Bb9', []],
    ['B-9', 'Bm9', []],
    ['Bb-7', 'Bbm7', []],
    ['Abb5', 'Ab(b5)', ['chord-root-alteration']],
    ['Bbb9', 'Bb(b9)', ['chord-root-alteration']],
    ['C##9', 'C#(#9)', ['chord-root-alteration']],
    ['Bbb7', 'Bbbdom7', ['chord-root-double']],
    ['Cb9sus', 'Cb9sus4', ['chord-root-or-alteration']],
    ['C#5', 'C#5', ['chord-root-or-alteration']],
    ['C#9', 'C#9', []],
    ['CΔ', 'Cmaj7', ['chord-triangle']],
    ['CΔ7', 'Cmaj7', []],
    ['C7?', 'C7', ['chord-uncertain']],
    ['C7,', 'C7', []],
    ['dm7', 'Dm7', ['chord-lower-case']],
    ['bb7', 'Bb7', ['chord-lower-case']],
    ['ab', 'Ab', ['chord-lower-case']],
    ['b', 'B', ['chord-b-root']],
    ['bm7', 'Bm7', ['chord-b-root']],
    ['C/e', 'C/E', []],
  ])('%s is read as %s', (typed, symbol, codes) => {
    expect(makeChord(typed).symbol).toBe(symbol);
    expect(remarks(typed)).toEqual(codes);
  });

  it('tells the other meaning of a remark', () => {
    expect(parseChord('C#5')).toMatchObject({ remarks: [{ at: 0, length: 3, values: { other: 'C(#5)' } }] });
    expect(parseChord('Bbb9')).toMatchObject({ remarks: [{ values: { root: 'Bb', other: 'Bbb' } }] });
  });

  it('minus is flat before a number except after the root, plus is sharp likewise', () => {
    same('C7-5', 'C7b5');
    same('C-7-5', 'Cm7b5');
    same('C+7', 'C7#5');
    same('C7+9', 'C7#9');
    same('C7+', 'C7#5');
    same('Cm+7', 'CmMaj7');
    same('C-5', 'C(b5)');
    same('C7+5-9', 'C7#5b9');
  });

  it('no number is an octave', () => {
    const symbols = ['C2', 'C4', 'C5', 'C6', 'C7', 'C69', 'C-7'].map((text) => makeChord(text).symbol);
    expect(symbols).toEqual(['Cadd9', 'Csus4', 'C5', 'C6', 'C7', 'C69', 'Cm7']);
  });
});

describe('tones', () => {
  test.each([
    ['C7b5b9', 'C E Gb Bb Db'],
    ['C7b9b5', 'C E Gb Bb Db'],
    ['C7#9b5', 'C E Gb Bb D#'],
    ['C9b5b13', 'C E Gb Bb D Ab'],
    ['CM6b5', 'C E Gb A'],
    ['C7sus4b9', 'C F G Bb Db'],
    ['C7susb9', 'C F G Bb Db'],
    ['C7sus(b9)', 'C F G Bb Db'],
    ['C9(sus4)', 'C F G Bb D'],
    ['Csus7', 'C F G Bb'],
    ['Csus9', 'C F G Bb D'],
    ['C7no3', 'C G Bb'],
    ['C7(omit3)', 'C G Bb'],
    ['C(no5)', 'C E'],
    ['Cno3', 'C G'],
    ['Co omit5', 'C Eb'],
    ['C9no3', 'C G Bb D'],
    ['Cm7no5', 'C Eb Bb'],
    ['C11', 'C G Bb D F'],
    ['C7alt', 'C E Bb'],
    ['Gbdim7', 'Gb Bbb Dbb Fbb'],
    ['E#m7b5', 'E# G# B D#'],
  ])('%s has %s', (symbol, expected) => expect(notes(symbol)).toBe(expected));

  it('permits what the symbol leaves open', () => {
    const colours = (chord: Chord): string => chord.colours.map((tone) => tone.note).join(' ');
    expect(colours(makeChord('C7alt'))).toBe('Gb G# Db D# F# Ab');
    expect(colours(makeChord('C11'))).toBe('E');
    expect(colours(makeChord('C7b13'))).toBe('G D');
    expect(colours(makeChord('C7#11'))).toBe('D');
    expect(colours(makeChord('C7b9'))).toBe('');
    expect(makeChord('C7alt').isAltered).toBe(true);
    expect(makeChord('C7#5#9').isAltered).toBe(false);
  });

  test.each([
    ['C', 'major'],
    ['C6', 'major'],
    ['Cmaj7#11', 'major'],
    ['CmMaj7', 'minor'],
    ['Cm#5', 'minor'],
    ['C7', 'dominant'],
    ['C7#5', 'dominant'],
    ['C7no3', 'dominant'],
    ['C7alt', 'dominant'],
    ['Cm7b5', 'halfDiminished'],
    ['Cdim', 'diminished'],
    ['CdimMaj7', 'diminished'],
    ['Caug', 'augmented'],
    ['Cmaj7#5', 'augmented'],
    ['C11', 'suspended'],
    ['C7sus4', 'suspended'],
    ['C5', 'power'],
    ['Cno3', 'power'],
  ])('%s is of the family %s', (symbol, family) => expect(makeChord(symbol).family).toBe(family));
});

describe('bass', () => {
  test.each([
    ['C6/9', null],
    ['C6/9/E', 'E'],
    ['Bb6/9/F', 'F'],
    ['Cm6/9/G', 'G'],
    ['Cm/maj7/G', 'G'],
    ['C / E', 'E'],
    ['C/e', 'E'],
    ['C over Eb', 'Eb'],
    ['C7/13', null],
    ['C7(b9/b13)', null],
    ['C/C', null],
    ['(C7/Bb)', 'Bb'],
  ])('%s', (symbol, bass) => expect(makeChord(symbol).bass).toBe(bass));

  it('a bass alone keeps the chord before it', () => {
    expect(parseChord('/E')).toEqual({ kind: 'bass only', bass: 'E' });
    expect(parseChord('/ b♭')).toEqual({ kind: 'bass only', bass: 'Bb' });
  });
});
