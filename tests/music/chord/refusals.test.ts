// What is no chord, what is said about it, and that no text can do harm.
import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import words from '../../../shared/words/chord-problems.json' with { type: 'json' };
import { longestSymbol, makeChord, parseChord, type ChordReading } from '../../../src/music';

const refusal = (symbol: string): { code: string; at: number; length: number } => {
  const reading = parseChord(symbol);
  if (reading.kind !== 'refused') throw new Error(`${symbol} was read`);
  return { code: reading.code, at: reading.at, length: reading.length };
};

describe('not chords', () => {
  test.each(['N.C.', 'NC', 'N.C', 'n.c.', 'No Chord', '(N.C.)', 'tacet'])('%s is no chord', (text) =>
    expect(parseChord(text)).toEqual({ kind: 'no chord' }),
  );

  test.each([
    ['', 'chord-empty', 0, 0],
    ['  ', 'chord-empty', 0, 2],
    ['add9', 'chord-no-root', 0, 4],
    ['dim7', 'chord-no-root', 0, 4],
    ['m7', 'chord-no-root', 0, 2],
    ['7', 'chord-no-root', 0, 1],
    ['sus4', 'chord-no-root', 0, 4],
    ['alt7', 'chord-no-root', 0, 4],
    ['-', 'chord-sign', 0, 1],
    ['%', 'chord-sign', 0, 1],
    [':||', 'chord-sign', 0, 3],
    ['A1', 'chord-section-label', 0, 2],
    ['H7', 'chord-german-h', 0, 1],
    ['Hm7b5', 'chord-german-h', 0, 1],
    ['C/H', 'chord-german-h', 2, 1],
    ['Chorus', 'chord-not-a-chord', 0, 6],
    ['Adagio', 'chord-not-a-chord', 0, 6],
    ['Coda', 'chord-not-a-chord', 0, 4],
    ['C7#', 'chord-number-missing', 2, 1],
    ['C7add', 'chord-number-missing', 5, 0],
    ['C##b', 'chord-number-missing', 3, 1],
    ['C###7', 'chord-root-accidentals', 0, 5],
    ['C7b11', 'chord-alteration', 2, 1],
    ['C12', 'chord-unknown', 1, 1],
    ['C7(5)', 'chord-number', 3, 1],
    ['Cm7m', 'chord-two-qualities', 3, 1],
    ['C7 D7', 'chord-unknown', 3, 1],
    ['C/Eb7', 'chord-bass', 2, 3],
    ['C/E/G', 'chord-bass', 2, 3],
    ['EB7', 'chord-capital-flat', 1, 1],
    ['Bb7xyz', 'chord-unknown', 3, 1],
  ])('%j is refused as %s', (text, code, at, length) => expect(refusal(text)).toEqual({ code, at, length }));

  it('refuses what is too long without reading it', () => {
    expect(refusal(`C${'7'.repeat(1e6)}`)).toMatchObject({ code: 'chord-too-long', at: longestSymbol });
  });

  it('makeChord throws where parseChord refuses', () => {
    expect(() => makeChord('H7')).toThrow(RangeError);
    expect(() => makeChord('N.C.')).toThrow(RangeError);
  });
});

describe('sentences', () => {
  const catalogue: Readonly<Record<string, { severity: string; message: string }>> = words;
  const told = (
    reading: ChordReading,
  ): readonly { code: string; values?: Readonly<Record<string, string>> }[] =>
    reading.kind === 'refused' ? [reading] : reading.kind === 'chord' ? reading.remarks : [];
  const typed =
    'C7#|C7b11|C12|C10|Cm7m|C()|C(b9|C7?|x|add9|%|A1|H7|C/H|C###|C/Eb7|EB7|dm|b|Bbb7|Abb5|C#5|CΔ||Cno1'.split(
      '|',
    );
  const readings = [...typed, 'C'.repeat(101)].map(parseChord);

  it('every code has a sentence and every blank in it a value', () => {
    for (const { code, values = {} } of readings.flatMap(told)) {
      const entry = catalogue[code];
      expect(entry, code).toBeDefined();
      for (const [, name] of entry!.message.matchAll(/\{(\w+)\}/g)) {
        expect(values, `${code} {${name}}`).toHaveProperty(name!);
      }
    }
  });

  it('every sentence is used, apart from those about files', () => {
    const used = new Set(readings.flatMap(told).map((item) => item.code));
    expect(
      Object.keys(catalogue).filter((code) => !used.has(code) && !code.startsWith('chord-file')),
    ).toEqual([]);
  });

  it('refusals are errors and remarks are not', () => {
    for (const reading of readings) {
      if (reading.kind === 'refused') expect(catalogue[reading.code]!.severity).toBe('error');
      if (reading.kind === 'chord') {
        for (const { code } of reading.remarks) expect(catalogue[code]!.severity).not.toBe('error');
      }
    }
  });
});

describe('any text', () => {
  const pieces = [..."ABCDEFGHabdghijmnostu0123456789#b♭♯♮𝄫△ø°+-−()[]{},./| ^Mk'?é\uFE0F\ud800"];
  const words = 'maj min dim aug sus add no alt omit half lyd over flat sharp N.C. 13 11 69'.split(' ');
  const chordish = fc
    .array(fc.constantFrom(...pieces, ...words), { maxLength: 14 })
    .map((parts) => parts.join(''));

  it('never throws, and its places lie in the text', () => {
    fc.assert(
      fc.property(
        fc.oneof({ weight: 9, arbitrary: chordish }, fc.string({ unit: 'binary', maxLength: 120 })),
        (text) => {
          const reading = parseChord(text);
          const places =
            reading.kind === 'refused' ? [reading] : reading.kind === 'chord' ? reading.remarks : [];
          return places.every(({ at, length }) => at >= 0 && length >= 0 && at + length <= text.length);
        },
      ),
      { numRuns: 100_000, seed: 20 },
    );
  }, 180_000);
});
