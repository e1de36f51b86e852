import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import {
  chordFromMusicXml,
  makeChord,
  musicXmlKind,
  parseChord,
  type Chord,
  type XmlDegree,
} from '../../../src/music';

type Short = readonly [value: number, alter: number, type: XmlDegree['type']];
const degrees = (list: readonly Short[]): XmlDegree[] =>
  list.map(([value, alter, type]) => ({ value, alter, type }));
const read = (
  root: string,
  kind: string,
  list: readonly Short[] = [],
  kindText: string | null = null,
): Chord => {
  const reading = chordFromMusicXml({ root, kind, kindText, degrees: degrees(list) });
  if (reading.kind !== 'chord') throw new Error(`${root} ${kind}: ${JSON.stringify(reading)}`);
  return reading.chord;
};

describe('reading kinds and degrees (W3C MusicXML 4.0, kind-value, degree-alter)', () => {
  const table: readonly (readonly [string, string, readonly Short[], string])[] = [
    [
      'Eb',
      'dominant-13th',
      [
        [3, 0, 'subtract'],
        [4, 0, 'add'],
      ],
      'Eb13sus4',
    ],
    [
      'Eb',
      'suspended-fourth',
      [
        [7, 0, 'add'],
        [9, 0, 'add'],
        [13, 0, 'add'],
      ],
      'Eb13sus4',
    ],
    ['C', 'minor', [[7, 0, 'add']], 'Cm7'],
    ['C', 'minor', [[7, 1, 'add']], 'CmMaj7'],
    ['C', 'minor-seventh', [[5, -1, 'alter']], 'Cm7b5'],
    ['C', 'half-diminished', [], 'Cm7b5'],
    ['C', 'dominant', [[9, -1, 'alter']], 'C7b9'],
    [
      'C',
      'dominant',
      [
        [9, -1, 'add'],
        [13, -1, 'add'],
      ],
      'C7b9b13',
    ],
    ['C', 'dominant-13th', [[9, 1, 'alter']], 'C13#9'],
    ['C', 'major-minor', [], 'CmMaj7'],
    ['C', 'major', [[2, 0, 'add']], 'Cadd9'],
    ['C', 'major', [[5, 0, 'subtract']], 'Cno5'],
    ['C', 'power', [], 'C5'],
    ['C', 'diminished', [[7, -1, 'add']], 'Cdim7'],
    ['C', 'dominant-11th', [[3, 0, 'subtract']], 'C9sus4'],
    [
      'C',
      'other',
      [
        [3, -1, 'add'],
        [5, 0, 'add'],
      ],
      'Cm',
    ],
    ['C', 'suspended-second', [[4, 0, 'add']], 'Csus24'],
  ];
  test.each(table)('%s %s %j is %s', (root, kind, list, symbol) =>
    expect(read(root, kind, list).symbol).toBe(symbol),
  );

  it('both forms of a suspended thirteenth have the same notes and no third', () => {
    const notes = read('Eb', 'dominant-13th', [
      [3, 0, 'subtract'],
      [4, 0, 'add'],
    ]).tones.map((tone) => tone.note);
    expect(notes).toEqual(['Eb', 'Ab', 'Bb', 'Db', 'F', 'C']);
  });

  it('takes the altered dominant from the text', () => {
    expect(read('C', 'dominant', [], '7alt').symbol).toBe('C7alt');
    expect(read('C', 'dominant', [[9, 1, 'add']], '7').symbol).toBe('C7#9');
    expect(read('C', 'other', [], 'm7♭5').symbol).toBe('Cm7b5');
  });

  it('keeps the bass, and drops one that cannot be read', () => {
    const over = (bass: string): Chord => {
      const reading = chordFromMusicXml({ root: 'C', kind: 'major', degrees: [], bass });
      if (reading.kind !== 'chord') throw new Error('not read');
      return reading.chord;
    };
    expect(over('Bb').symbol).toBe('C/Bb');
    expect(over('<b>').symbol).toBe('C');
  });

  it('refuses what it cannot read, and passes over foreign degrees', () => {
    const of = (root: string, kind: string, list: readonly Short[] = []): unknown =>
      chordFromMusicXml({ root, kind, degrees: degrees(list) });
    expect(of('C', 'none')).toEqual({ kind: 'no chord' });
    expect(of('', 'major')).toMatchObject({ kind: 'refused', code: 'chord-file-root' });
    expect(of('C', 'pedal')).toMatchObject({ kind: 'chord', chord: { symbol: 'Cno3no5' } });
    expect(of('C', 'other')).toMatchObject({ kind: 'refused', code: 'chord-file-kind' });
    expect(
      of('C', 'dominant', [
        [99, Number.NaN, 'add'],
        [9, -1, 'add'],
      ]),
    ).toMatchObject({
      chord: { symbol: 'C7b9' },
      remarks: [{ code: 'chord-file-degree' }],
    });
  });
});

describe('writing', () => {
  test.each([
    ['C7', 'dominant', []],
    ['C7b9', 'dominant', [[9, -1, 'add']]],
    ['C7#5', 'augmented-seventh', []],
    ['Cm7b5', 'half-diminished', []],
    ['CmMaj7', 'major-minor', []],
    ['Cmaj7#11', 'major-seventh', [[11, 1, 'add']]],
    ['Cmaj7#5', 'major-seventh', [[5, 1, 'alter']]],
    ['C69', 'major-sixth', [[9, 0, 'add']]],
    ['C7sus4', 'suspended-fourth', [[7, 0, 'add']]],
    ['C13b9', 'dominant-13th', [[9, -1, 'alter']]],
    ['C7no5', 'dominant', [[5, 0, 'subtract']]],
    ['C5', 'power', []],
  ] as const)('%s is of the kind %s', (symbol, kind, list) => {
    expect(musicXmlKind(makeChord(symbol))).toMatchObject({ kind, degrees: degrees(list) });
  });

  it('gives the symbol as text', () => expect(musicXmlKind(makeChord('Bb-7(b5)')).text).toBe('m7b5'));
});

describe('round trip', () => {
  const qualities = [
    '',
    'm',
    'maj7',
    'm7',
    'mMaj7',
    '7',
    'dim',
    'dim7',
    'm7b5',
    'aug',
    '6',
    'm6',
    '9',
    'm9',
    'maj9',
  ];
  const more = [
    '11',
    'm11',
    '13',
    'maj13',
    'sus4',
    'sus2',
    '7sus4',
    '9sus4',
    '13sus4',
    '5',
    '7alt',
    '69',
    'dimMaj7',
  ];
  const parts = [
    'b5',
    '#5',
    'b9',
    '#9',
    '#11',
    'b13',
    'add9',
    'add11',
    'add13',
    'no3',
    'no5',
    'add#11',
    'addb9',
  ];
  const symbols = fc
    .tuple(
      fc.constantFrom('C', 'F#', 'Bb', 'Eb'),
      fc.constantFrom(...qualities, ...more),
      fc.uniqueArray(fc.constantFrom(...parts), { maxLength: 3 }),
    )
    .map(([root, quality, list]) => `${root}${quality}${list.length === 0 ? '' : `(${list.join(',')})`}`);

  it('what is written is read back as the same chord', () => {
    let read = 0;
    fc.assert(
      fc.property(symbols, (symbol) => {
        const reading = parseChord(symbol);
        if (reading.kind !== 'chord') return;
        read += 1;
        const { chord } = reading;
        const { kind, text, degrees: list } = musicXmlKind(chord);
        const back = chordFromMusicXml({ root: chord.root, kind, kindText: text, degrees: list });
        expect(back, symbol).toMatchObject({ chord: { symbol: chord.symbol, tones: chord.tones } });
        expect(back, symbol).toMatchObject({ chord: { colours: chord.colours }, remarks: [] });
      }),
      { numRuns: 3000, seed: 25 },
    );
    expect(read).toBeGreaterThan(2000);
  });

  it('never throws on hostile values', () => {
    const anything = fc.record({
      root: fc.oneof(fc.string(), fc.constantFrom('C', 'Bb', 'F##')),
      kind: fc.oneof(
        fc.string(),
        fc.constantFrom('dominant', 'major', 'other', 'none', 'dominant-11th', '__proto__'),
      ),
      kindText: fc.option(fc.string()),
      degrees: fc.array(
        fc.record({
          value: fc.oneof(fc.integer({ min: -3, max: 20 }), fc.double()),
          alter: fc.oneof(fc.integer({ min: -3, max: 3 }), fc.double()),
          type: fc.constantFrom('add', 'alter', 'subtract'),
        }),
        { maxLength: 8 },
      ),
      bass: fc.option(fc.string()),
    });
    fc.assert(
      fc.property(anything, (harmony) => {
        const reading = chordFromMusicXml(harmony);
        if (reading.kind === 'chord') makeChord(reading.chord.symbol);
      }),
      { numRuns: 3000, seed: 26 },
    );
  });
});
