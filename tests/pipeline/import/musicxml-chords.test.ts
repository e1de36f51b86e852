import { describe, expect, it } from 'vitest';
import { importText } from '../../../src/pipeline/1-chart/import';
import { score, attributes, rest, harmony, dominant, degree, direction, symbolsOf, codes } from './score';

describe('chords', () => {
  const tones = (content: string): string[] => {
    const { chart } = importText(score([{ measures: [`${attributes()}${content}${rest(8)}`] }]));
    return chart.bars[0]!.chords[0]!.chord!.tones.map(({ note: name }) => name);
  };

  it('reads a suspended dominant in both of its forms', () => {
    const first = harmony(
      'Eb',
      '<kind text="13sus">dominant-13th</kind>',
      degree(3, 0, 'subtract') + degree(4, 0, 'add'),
    );
    const second = harmony(
      'Eb',
      '<kind>suspended-fourth</kind>',
      degree(7, 0, 'add') + degree(9, 0, 'add') + degree(13, 0, 'add'),
    );
    for (const content of [first, second])
      expect([...tones(content)].sort()).toEqual(['Ab', 'Bb', 'C', 'Db', 'Eb', 'F']);
  });

  describe('kinds outside the standard', () => {
    const read = (kind: string, more = ''): readonly [string, string[]] => {
      const reading = importText(
        score([{ measures: [`${attributes()}${harmony('C', kind, more)}${rest(8)}`] }]),
      );
      return [reading.chart.bars[0]!.chords[0]!.chord?.symbol ?? 'N.C.', codes(reading)];
    };
    const byText = ['chord-file-kind-text'];
    it.each([
      // As the text prints them.
      ['<kind text="9+">augmented-ninth</kind>', 'C9#5', byText],
      ['<kind text="69">sixth-ninth</kind>', 'C69', byText],
      ['<kind text="mMaj7"></kind>', 'CmMaj7', byText],
      ['<kind text="7+">7plus</kind>', 'C7#5', byText],
      ['<kind text="Maj7+">x</kind>', 'Cmaj7#5', byText],
      ['<kind text="69">other</kind>', 'C69', byText],
      // A symbol, or words, where the kind should stand.
      ['<kind>mMaj7</kind>', 'CmMaj7', byText],
      ['<kind>9+</kind>', 'C9#5', byText],
      ['<kind>augmented-ninth</kind>', 'C9#5', byText],
      ['<kind>dominant-seventh</kind>', 'C7', byText],
      ['<kind>minor-major-seventh</kind>', 'CmMaj7', byText],
      ['<kind>suspended-seventh</kind>', 'C7sus4', byText],
      // Nothing at all.
      ['<kind/>', 'C', ['chord-file-kind-empty']],
      ['', 'C', ['chord-file-kind-empty']],
      // Kinds of the standard that name no chord of a lead sheet.
      ['<kind>pedal</kind>', 'Cno3no5', []],
      ['<kind>Neapolitan</kind>', 'C', ['chord-file-kind-sound']],
      ['<kind>German</kind>', 'C7', ['chord-file-kind-sound']],
    ])('%s', (kind, symbol, told) => {
      expect(read(kind)).toEqual([symbol, told]);
    });

    it('are read from kind and degrees where the text cannot be', () => {
      expect(read('<kind text="~?">dominant</kind>', degree(9, -1, 'add'))).toEqual(['C7b9', []]);
      expect(read('<kind text="~?"/>', degree(7, 0, 'add'))).toEqual(['C7', ['chord-file-kind-empty']]);
    });

    it('are left out, with their place, where nothing can be read', () => {
      expect(read('<kind text="~?">strange</kind>')).toEqual(['N.C.', ['chord-unread', 'score-no-chords']]);
    });
  });

  it('counts added degrees from a dominant chord', () => {
    expect(tones(harmony('C', '<kind>minor</kind>', degree(7, 0, 'add')))).toEqual(['C', 'Eb', 'G', 'Bb']);
    expect(tones(harmony('C', '<kind>minor</kind>', degree(7, 1, 'add')))).toEqual(['C', 'Eb', 'G', 'B']);
    expect(tones(harmony('C', '<kind>minor-seventh</kind>', degree(5, -1, 'alter')))).toEqual([
      'C',
      'Eb',
      'Gb',
      'Bb',
    ]);
    expect(tones(harmony('C', '<kind>dominant</kind>', degree(9, -1, 'alter')))).toEqual([
      'C',
      'E',
      'G',
      'Bb',
      'Db',
    ]);
    expect(tones(harmony('C', '<kind>major-minor</kind>'))).toEqual(['C', 'Eb', 'G', 'B']);
  });

  it('takes chords to their places, by offset and by time', () => {
    const bar = `${attributes()}${harmony('D', dominant)}${harmony('G', dominant, '<offset>4</offset>')}${rest(6)}${harmony('C', dominant)}${rest(2)}`;
    const { chart } = importText(score([{ measures: [bar] }]));
    expect(chart.bars[0]!.chords.map(({ offset, length }) => [offset, length])).toEqual([
      [0, 960],
      [960, 480],
      [1440, 480],
    ]);
  });

  it('keeps an alternative beside the chord, whichever comes first', () => {
    const alternate = harmony('Ab', dominant, '', ' type="alternate"');
    for (const both of [harmony('D', dominant) + alternate, alternate + harmony('D', dominant)]) {
      const reading = importText(score([{ measures: [`${attributes()}${both}${rest(8)}`] }]));
      const [chord, ...others] = reading.chart.bars[0]!.chords;
      expect(others).toEqual([]);
      expect(chord).toMatchObject({ offset: 0, length: 1920, chord: { symbol: 'D7' } });
      expect(chord!.alternates.map(({ symbol }) => symbol)).toEqual(['Ab7']);
    }
  });

  it('lets chords at one place share the time of the note under them, and says so', () => {
    const places = (bar: string): unknown => {
      const reading = importText(score([{ measures: [`${attributes()}${bar}`] }]));
      const chords = reading.chart.bars[0]!.chords.map(({ chord, offset, alternates }) => [
        chord!.symbol,
        offset,
        ...alternates.map(({ symbol }) => symbol),
      ]);
      return [chords, codes(reading)];
    };
    const two = harmony('D', dominant) + harmony('G', dominant);
    expect(places(two + rest(8))).toEqual([
      [
        ['D7', 0],
        ['G7', 960],
      ],
      ['harmony-shared'],
    ]);
    expect(places(`${harmony('C', dominant)}${rest(4)}${two}${rest(4)}`)).toEqual([
      [
        ['C7', 0],
        ['D7', 960],
        ['G7', 1440],
      ],
      ['harmony-shared'],
    ]);
    // The note is shorter than the rest of the bar.
    expect(places(`${two}${rest(2)}${rest(6)}`)).toEqual([
      [
        ['D7', 0],
        ['G7', 240],
      ],
      ['harmony-shared'],
    ]);
    // The same chord over two staves is one chord; what is called an alternative stays one.
    expect(places(harmony('D', dominant) + harmony('D', dominant) + rest(8))).toEqual([[['D7', 0]], []]);
    const alternate = harmony('A', dominant, '', ' type="alternate"');
    expect(places(`${two}${alternate}${rest(8)}`)).toEqual([
      [
        ['D7', 0, 'A7'],
        ['G7', 960],
      ],
      ['harmony-shared'],
    ]);
  });

  it('holds a chord over bars without one, and rests for N.C. in either spelling', () => {
    const noChord = harmony('C', '<kind text="N.C.">none</kind>');
    const reading = importText(
      score([
        {
          measures: [
            `${attributes()}${rest(8)}`,
            `${harmony('F', dominant)}${rest(8)}`,
            rest(8),
            `${noChord}${rest(8)}`,
            `${harmony('F', dominant)}${rest(4)}${direction('N.C.')}${rest(4)}`,
          ],
        },
      ]),
    );
    expect(symbolsOf(reading)).toEqual([['N.C.'], ['F7'], ['F7'], ['N.C.'], ['F7', 'N.C.']]);
  });

  it('tells of chords it cannot read, with the bar and the place', () => {
    const numeral = '<harmony><numeral><numeral-root>5</numeral-root></numeral><kind>major</kind></harmony>';
    const text = score([
      {
        measures: [
          `${attributes()}${harmony('C', dominant)}${rest(8)}`,
          `${numeral}\n${harmony('D', '<kind>odd</kind>')}${rest(8)}`,
        ],
      },
    ]);
    const reading = importText(text);
    expect(codes(reading)).toEqual(['harmony-numeral', 'chord-unread']);
    expect(reading.problems.map(({ message }) => message.slice(0, 6))).toEqual(['Bar 2:', 'Bar 2:']);
    const { line, column } = reading.problems[1]!;
    expect(text.split('\n')[line - 1]!.slice(column - 1)).toMatch(/^<harmony><root><root-step>D/);
    expect(symbolsOf(reading)).toEqual([['C7'], ['C7']]);
  });

  it('reads chords for a transposing instrument as they sound', () => {
    const transpose = '<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>';
    const reading = importText(
      score([
        {
          measures: [
            `${attributes(transpose)}${harmony('D', dominant)}${rest(8)}`,
            `${harmony('G', dominant)}${rest(8)}`,
          ],
        },
      ]),
    );
    expect(symbolsOf(reading)).toEqual([['C7'], ['F7']]);
    expect(reading.chart.header.key).toMatchObject({ tonic: 'Bb', fifths: -2 });
    expect(codes(reading)).toEqual(['transposed']);
  });

  it('repeats bars under a simile sign', () => {
    const start =
      '<attributes><measure-style><measure-repeat type="start">1</measure-repeat></measure-style></attributes>';
    const stop = '<attributes><measure-style><measure-repeat type="stop"/></measure-style></attributes>';
    const two = `${harmony('C', dominant)}${rest(4)}${harmony('F', dominant)}${rest(4)}`;
    const reading = importText(
      score([{ measures: [attributes() + two, start + rest(8), rest(8), stop + rest(8)] }]),
    );
    expect(symbolsOf(reading)).toEqual([['C7', 'F7'], ['C7', 'F7'], ['C7', 'F7'], ['F7']]);
    expect(reading.chart.bars.map(({ simile }) => simile)).toEqual([null, 1, 1, null]);
  });

  describe('elements with parts missing', () => {
    const read = (content: string): readonly [string[], string[]] => {
      const whole = score([
        { measures: [`${attributes()}${content}${rest(4)}${harmony('F', dominant)}${rest(4)}`] },
      ]);
      const reading = importText(whole);
      return [symbolsOf(reading)[0]!, reading.problems.map(({ message }) => message)];
    };

    it('are read by what is there', () => {
      const degreeOf = (parts: string): string => harmony('C', dominant, `<degree>${parts}</degree>`);
      for (const parts of [
        '',
        '<degree-type>add</degree-type>',
        '<degree-value>9</degree-value>',
        '<degree-value>9</degree-value><degree-type>bend</degree-type>',
      ])
        expect(read(degreeOf(parts))).toEqual([['C7', 'F7'], []]);
      expect(read(degreeOf('<degree-value>9</degree-value><degree-type>add</degree-type>'))[0]).toEqual([
        'C9',
        'F7',
      ]);
      expect(read('<harmony><kind>none</kind></harmony>')).toEqual([['N.C.', 'F7'], []]);
    });

    it('say what cannot be read', () => {
      const rootOf = (alter: string): string =>
        `<harmony><root><root-step>C</root-step><root-alter>${alter}</root-alter></root>${dominant}</harmony>`;
      expect(read(rootOf('-2'))[0]).toEqual(['Cbbdom7', 'F7']);
      for (const alter of ['3', '-3', '0.5'])
        expect(read(rootOf(alter))).toEqual([['N.C.', 'F7'], [expect.stringContaining('C?7')]]);
      expect(read('<harmony><kind>major</kind></harmony>')).toEqual([
        ['N.C.', 'F7'],
        [expect.stringContaining('Bar 1')],
      ]);
      const kindless = '<harmony><root><root-step>C</root-step><root-alter>7</root-alter></root></harmony>';
      expect(read(kindless)).toEqual([['N.C.', 'F7'], [expect.stringContaining('C? ')]]);
    });
  });
});
