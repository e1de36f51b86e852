import abcjs from 'abcjs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chartToAbc } from '../../../src/export';
import { makeTimeline, readChart } from '../../../src/pipeline';
import { importText, type ImportReading } from '../../../src/pipeline/1-chart/import';
import { anyChart } from './any-chart';

const tune = (body: string, header = 'M:4/4\nL:1/4'): string => `X:1\nT:Ours\n${header}\nK:C\n${body}\n`;
const read = (body: string, header?: string): ImportReading => importText(tune(body, header));
const codes = ({ problems }: ImportReading): string[] => problems.map(({ code }) => code);
const symbolsOf = ({ chart }: ImportReading): string[][] =>
  chart.bars.map(({ chords }) => chords.map(({ chord }) => chord?.symbol ?? 'N.C.'));

function played(reading: ImportReading): string {
  const { timeline } = makeTimeline(reading.chart, { choruses: 1, tempo: null });
  return timeline!.bars
    .map(({ chords }) => chords.map(({ chord }) => chord?.symbol ?? 'N.C.').join(' '))
    .join(' ');
}

describe('chord symbols', () => {
  it('are read as they are typed, whatever signs they are typed with', () => {
    const reading = read('"Bb7/Ab"z "F#m7b5"z "C/Bb"z "C^7"z | "B♭7"z4 | "C△7"z4 | "C−7"z4 |');
    expect(symbolsOf(reading)).toEqual([['Bb7/Ab', 'F#m7b5', 'C/Bb', 'Cmaj7'], ['Bb7'], ['Cmaj7'], ['Cm7']]);
    expect(codes(reading)).toEqual([]);
  });

  it.each(['"Dm7""Ab7"z4', '"Dm7;Ab7"z4', '"Dm7(Ab7)"z4'])(
    'keep an alternative beside the first: %s',
    (bar) => {
      const [only, ...more] = read(`${bar} |`).chart.bars[0]!.chords;
      expect(more).toEqual([]);
      expect(only).toMatchObject({ offset: 0, length: 1920, chord: { symbol: 'Dm7' } });
      expect(only!.alternates.map(({ symbol }) => symbol)).toEqual(['Ab7']);
    },
  );

  it('are told apart from annotations', () => {
    const reading = read('"^bass solo"z "_C7"z "<D7"z "@1,2 E7"z | "F7"z4 |');
    expect(symbolsOf(reading)).toEqual([['N.C.'], ['F7']]);
    expect(codes(reading)).toEqual([]);
  });

  it('share a bar in which nothing has a length', () => {
    const { chart } = read('"C7" "F7" | "G7" |');
    expect(chart.bars.map(({ chords }) => chords.map(({ offset }) => offset))).toEqual([[0, 960], [0]]);
  });

  it('change only the bass after a slash, and are refused with their place', () => {
    const text = tune('"C7"z2 "/E"z2 | "nonsense"z4 |');
    const reading = importText(text);
    expect(symbolsOf(reading)[0]).toEqual(['C7', 'C7/E']);
    expect(reading.problems).toMatchObject([{ code: 'chord-unread', line: 6 }]);
    expect(text.split('\n')[5]!.slice(reading.problems[0]!.column - 1)).toMatch(/^"nonsense"/);
  });
});

describe('lengths', () => {
  it.each([
    ['notes and rests', '"C7"C2 "F7"z2 |', [0, 960]],
    ['fractions', '"C7"C/2"D7"D/2 "F7"z3/2 "G7"x3/ |', [0, 240, 480, 1200]],
    ['broken rhythm', '"C7"C>"D7"D "E7"E<"F7"F |', [0, 720, 960, 1200]],
    ['triplets', '"C7"(3"D7"C"E7"D"F7"E z2 |', [0, 320, 640]],
    ['chords of notes', '"C7"[CE2G]2 "F7"[FA]2 |', [0, 960]],
    ['grace notes and decorations', '"C7"{cd}.C2 !trill!"F7"~z2 |', [0, 960]],
  ])('of %s', (name, bar, offsets) => {
    const found = read(bar).chart.bars[0]!.chords.map(({ offset }) => offset);
    // Two symbols over one note: the second is an alternative.
    expect(found).toEqual(name === 'triplets' ? [0, 320, 640] : offsets);
  });

  it('follow the unit that the meter gives when none is named', () => {
    expect(read('"C7"z4 "F7"z4 |', 'M:4/4').chart.bars[0]!.chords.map(({ offset }) => offset)).toEqual([
      0, 960,
    ]);
    expect(read('"C7"z4 "F7"z4 |', 'M:2/4').chart.bars[0]!.chords.map(({ offset }) => offset)).toEqual([
      0, 480,
    ]);
  });

  it('make a pickup of a short first bar, and fill other short bars', () => {
    const reading = read('"G7"z | "C7"z4 | "F7"z3 |]');
    expect(reading.chart.bars.map(({ pickup }) => pickup)).toEqual([true, false, false]);
    expect(reading.chart.bars.map(({ chords }) => chords[0]!.length)).toEqual([480, 1920, 1920]);
  });

  it('of bars of rest', () => {
    expect(symbolsOf(read('"C7"Z3 | "F7"z4 |'))).toEqual([['C7'], ['C7'], ['C7'], ['F7']]);
  });
});

describe('form', () => {
  it.each([
    ['|: "C7"z4 |1 "F7"z4 :|2 "B7"z4 :|3 "E7"z4 ||', 'C7 F7 C7 B7 C7 E7'],
    ['|: "D7"z4 |1 "G7"z4 :|2 "C6"z4 :| "A7"z4 |', 'D7 G7 D7 C6 A7'],
    ['|: "C6"z4 |[1,3 "A7"z4 :|[2 "D7"z4 :|[4 "G7"z4 ||', 'C6 A7 C6 D7 C6 A7 C6 G7'],
    ['|: "C6"z4 |[1-3 "A7"z4 :|[4 "G7"z4 ||', 'C6 A7 C6 A7 C6 A7 C6 G7'],
    ['"C7"z2"F7"z2::"B7"z4:|', 'C7 F7 C7 F7 B7 B7'],
    ['"C7"z4||:"F7"z4:|', 'C7 F7 F7'],
    ['|::"C7"z4::|"F7"z4|', 'C7 C7 C7 F7'],
    ['"C7"z4|"D7"!fine!z4|"E7"z4|"F7"!D.C.alfine!z4||', 'C7 D7 E7 F7 C7 D7'],
    [
      '"C7"z4|!segno!"D7"z4|"E7"!dacoda!z4|"F7""^D.S. al Coda"z4||!coda!"G7"z4|"A7"z4|',
      'C7 D7 E7 F7 D7 E7 G7 A7',
    ],
  ])('%s plays %s', (body, expected) => {
    expect(played(read(body))).toBe(expected);
  });

  it.each(['AABA', 'A2BA', 'A.A.B.A', '(A)2(BA)'])('follows the order of parts %s', (order) => {
    const reading = read('P:A\n"C6"z4 | "A7"z4 |\nP:B\n"Dm7"z4 | "G7"z4 |', `M:4/4\nL:1/4\nP:${order}`);
    expect(played(reading)).toBe('C6 A7 C6 A7 Dm7 G7 C6 A7');
    expect(codes(reading)).toEqual([]);
  });

  it('reads meters and keys within the music', () => {
    const { chart } = read('"C7"z4 | [M:3/4][K:Bb] "F7"z3 |\nK:Gm\n"D7"z3 |');
    expect(chart.bars.map(({ meter }) => meter.beats)).toEqual([4, 3, 3]);
    expect(chart.bars.map(({ keyChange }) => keyChange?.fifths ?? null)).toEqual([null, -2, -2]);
  });

  it.each([
    ['Q:1/4=132', 132],
    ['Q:3/8=60', 90],
    ['Q:"Medium swing" 1/2=66', 132],
    ['Q:120', 120],
    ['Q:1/4=999', 320],
  ])('reads the tempo %s', (field, tempo) => {
    expect(read('"C7"z4 |', `M:4/4\nL:1/4\n${field}`).chart.header.tempo).toBe(tempo);
  });

  it.each([
    ['Bb', 'Bb', 'major'],
    ['F#m', 'F#', 'minor'],
    ['G minor', 'G', 'minor'],
    ['Ddor', 'D', 'minor'],
    ['A Mixolydian', 'A', 'major'],
    ['Eb clef=bass', 'Eb', 'major'],
  ])('reads the key %s', (field, tonic, mode) => {
    expect(importText(`X:1\nM:4/4\nL:1/4\nK:${field}\n"C7"z4 |\n`).chart.header.key).toMatchObject({
      tonic,
      mode,
    });
  });

  it('reads the first tune, and the voice with the chords', () => {
    const two = `${tune('V:1\nC4 | D4 |\nV:2\n"C7"z4 | "F7"z4 |')}\n${tune('"A7"z4 |')}`;
    const reading = importText(two);
    expect(symbolsOf(reading)).toEqual([['C7'], ['F7']]);
    expect(codes(reading).sort()).toEqual(['abc-tunes-many', 'abc-voices']);
  });
});

describe('other people’s and broken text', () => {
  // abcjs, an independent reader of the standard, finds every symbol. It warns of bars whose length no single rest has, of
  // thirds of a beat outside a triplet, of our own instruction, and of one sign of ABC 2.1 that it does not know.
  const known =
    /Duration not representable: .*z\d*(\/\d+)?|Unknown directive: ramble|Unknown decoration: dacoda/;

  it('is written so that another program reads it', () => {
    for (const chart of fc.sample(anyChart, { numRuns: 40, seed: 4 })) {
      const plain = { ...chart, header: { ...chart.header, parts: [] } };
      const [parsed] = abcjs.parseOnly(chartToAbc(plain));
      expect((parsed.warnings ?? []).filter((warning) => !known.test(warning))).toEqual([]);
      const elements = parsed.lines.flatMap(
        ({ staff }) => staff?.flatMap(({ voices }) => voices?.flat() ?? []) ?? [],
      );
      const symbols = elements.flatMap((element) => ('chord' in element ? (element.chord ?? []) : []));
      expect(symbols.filter(({ position }) => position === 'default')).toHaveLength(
        plain.bars.reduce((sum, { chords }) => sum + chords.length, 0),
      );
    }
  });

  it('of a plain chart gives another program nothing to warn of', () => {
    const { chart } = readChart(
      'Title: Plain\nKey: F\n|: F7 | Bb7 |1 Gm7 C7 :|2 F7 ||\n[B]\n| Cm7 / / F7 | Bb7 |]',
    );
    expect(abcjs.parseOnly(chartToAbc(chart))[0].warnings ?? []).toEqual([]);
  });

  it('never throws', () => {
    const pieces = [
      '"C7"',
      '"',
      '[',
      ']',
      '|',
      ':',
      '[1',
      '{',
      '}',
      '!',
      'z4',
      '(3',
      '>',
      '&',
      '%',
      'K:',
      '\n',
      '[K:',
      '"/E"',
      'Z9',
    ];
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...pieces), { maxLength: 40 }), (parts) => {
        expect(Array.isArray(read(parts.join('')).problems)).toBe(true);
      }),
      { numRuns: 500 },
    );
  });

  it.each(['[K:', '{', '"', '[C', '(3', '["', '!a', ':', '&', '"C7"'])(
    'takes 20,000 times %s in linear time',
    (piece) => {
      expect(read(piece.repeat(20_000)).kind).toBe('abc');
    },
  );
});
