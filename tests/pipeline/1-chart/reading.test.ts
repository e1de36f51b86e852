import { describe, expect, it } from 'vitest';
import { readChart, type ChartBar, type Problem } from '../../../src/pipeline/1-chart';

const bars = (text: string): readonly ChartBar[] => readChart(text).chart.bars;
const told = (text: string): readonly string[] =>
  readChart(text).problems.map(({ code, line, column, length }) => `${code} ${line}:${column}+${length}`);
/** Chords of every bar with their places in beats of 480 ticks. */
const places = (text: string): readonly string[] =>
  bars(text).map(({ chords }) =>
    chords.map(({ chord, offset, length }) => `${chord?.symbol ?? 'N.C.'} ${offset}+${length}`).join(', '),
  );

describe('heading', () => {
  it('reads every field', () => {
    const { chart, problems } = readChart(
      'Title: Any Old Study\nKey: C minor\nMeter: 6/8\nTempo: 54.5\nFeel: ballad\nForm: A B A\n[A] C7 |\n[B] F7 |',
    );
    expect(problems).toEqual([]);
    expect(chart.header).toEqual({
      title: 'Any Old Study',
      key: { tonic: 'C', mode: 'minor', fifths: -3 },
      meter: { beats: 6, unit: 8 },
      tempo: 54.5,
      feel: 'ballad',
      parts: ['A', 'B', 'A'],
    });
  });

  it('takes what is usual where nothing is said', () => {
    expect(readChart('C7').chart.header).toEqual({
      title: '',
      key: null,
      meter: { beats: 4, unit: 4 },
      tempo: null,
      feel: 'swing',
      parts: [],
    });
    expect(readChart('Meter: 3/4\nC7').chart.header.feel).toBe('waltz');
  });

  it.each([
    ['Key: f# minor', 'key', { tonic: 'F#', mode: 'minor', fifths: 3 }],
    ['KEY: B♭', 'key', { tonic: 'Bb', mode: 'major', fifths: -2 }],
    ['Tempo: ♩ = 132', 'tempo', 132],
    ['Tempo: 1/4=132', 'tempo', 132],
    ['tempo:132 bpm', 'tempo', 132],
    ['Feel: In two', 'feel', 'two-feel'],
    ['Style: Bossa Nova', 'feel', 'bossa'],
    ['Meter: common', 'meter', { beats: 4, unit: 4 }],
    ['Time: cut', 'meter', { beats: 2, unit: 2 }],
    ['Form: A-A-B-A', 'parts', ['A', 'A', 'B', 'A']],
    ['Form: A x2, B, A', 'parts', ['A', 'A', 'B', 'A']],
  ])('reads %s', (line, field, value) => {
    const { header } = readChart(`${line}\n[A] C7 |\n[B] F7 |`).chart;
    expect(header[field as keyof typeof header]).toEqual(value);
  });

  it.each([
    ['Key: H', 'key-unknown 1:6+1'],
    ['Meter: 4/5', 'meter-unknown 1:8+3'],
    ['Meter: 0/4', 'meter-unknown 1:8+3'],
    ['Meter: 99/4', 'meter-unknown 1:8+4'],
    ['Tempo: fast', 'tempo-unknown 1:8+4'],
    ['Tempo: 400', 'tempo-range 1:8+3'],
    ['Tempo: 10', 'tempo-range 1:8+2'],
    ['Feel: polka', 'feel-unknown 1:7+5'],
    ['Composer: nobody', 'header-unknown 1:1+16'],
    ['Key:', 'header-empty 1:1+4'],
  ])('tells of %s and goes on', (line, problem) => {
    expect(told(`${line}\nC7 | F7`)).toEqual([problem]);
    expect(bars(`${line}\nC7 | F7`)).toHaveLength(2);
  });

  it('keeps a tempo inside the range', () => {
    expect(readChart('Tempo: 400\nC7').chart.header.tempo).toBe(320);
    expect(readChart('Tempo: 3\nC7').chart.header.tempo).toBe(40);
  });

  it('takes meter and key lines among the bars as changes', () => {
    const { chart } = readChart('Key: F\nC7 |\nMeter: 3/4\nKey: Eb\nF7 | G7');
    expect(chart.header.meter.beats).toBe(4);
    expect(chart.header.key?.tonic).toBe('F');
    expect(chart.bars.map(({ meter, keyChange }) => `${meter.beats} ${keyChange?.tonic ?? ''}`)).toEqual([
      '4 ',
      '3 Eb',
      '3 ',
    ]);
  });

  it('takes a line of words before the bars as the title, and leaves out others', () => {
    const { chart, problems } = readChart(
      'Some Study\nplay softly throughout\n| C7 | F7 |\nthe end of it all',
    );
    expect(chart.header.title).toBe('Some Study');
    expect(chart.bars).toHaveLength(2);
    expect(problems.map(({ code, line }) => `${code} ${line}`)).toEqual([
      'title-taken 1',
      'line-not-read 2',
      'line-not-read 4',
    ]);
  });

  it('leaves out lines that begin with #', () => {
    expect(told('# C#7 | not a chord\n  # neither\nC#7')).toEqual([]);
    expect(bars('# C7\nF#7')).toHaveLength(1);
  });
});

describe('places in a bar', () => {
  it.each([
    ['C7', ['C7 0+1920']],
    ['C7 F7', ['C7 0+960, F7 960+960']],
    ['C7 F7 G7', ['C7 0+960, F7 960+480, G7 1440+480']],
    ['C7 F7 G7 A7', ['C7 0+480, F7 480+480, G7 960+480, A7 1440+480']],
    ['C7 / / F7', ['C7 0+1440, F7 1440+480']],
    ['C7 F7 / /', ['C7 0+480, F7 480+1440']],
    ['C7// F7', ['C7 0+1440, F7 1440+480']],
    ['C7 / / /. F7', ['C7 0+1680, F7 1680+240']],
    ['C7 / / /. F7.', ['C7 0+1680, F7 1680+240']],
    ['C7 . F7 . G7 /', ['C7 0+240, F7 240+240, G7 480+1440']],
    ['Caug. / F7 /', ['Caug 0+960, F7 960+960']],
    ['{3/4} C7 F7', ['C7 0+960, F7 960+480']],
    ['{5/4} C7 F7 G7', ['C7 0+960, F7 960+480, G7 1440+960']],
    ['{6/4} C7 F7 G7', ['C7 0+960, F7 960+960, G7 1920+960']],
    ['{7/4} C7 F7', ['C7 0+1920, F7 1920+1440']],
    ['{6/8} C7 F7', ['C7 0+720, F7 720+720']],
    ['{6/8} C7 . F7 /.', ['C7 0+240, F7 240+1200']],
    ['{12/8} C7 / / F7', ['C7 0+2160, F7 2160+720']],
    ['{2/2} C7 / / F7', ['C7 0+1440, F7 1440+480']],
    ['{7/8} C7 / / F7 / / /', ['C7 0+720, F7 720+960']],
    ['{pickup} C7 | F7', ['C7 0+480', 'F7 0+1920']],
    ['{pickup} C7 / . | F7', ['C7 0+720', 'F7 0+1920']],
  ])('reads %s', (text, expected) => {
    expect(places(text).slice(0, expected.length)).toEqual(expected);
  });

  it('goes on with the chord before where a bar has only slashes', () => {
    expect(places('C7 | / / / / | / / F7 /')).toEqual(['C7 0+1920', 'C7 0+1920', 'C7 0+960, F7 960+960']);
  });

  it('fills a bar that is written too short and cuts one that is too long, and says so', () => {
    expect(places('C7 / F7 |')).toEqual(['C7 0+960, F7 960+960']);
    expect(told('C7 / F7 |')).toEqual(['bar-short 1:6+2']);
    expect(places('C7 / / / F7 |')).toEqual(['C7 0+1920']);
    expect(told('C7 / / / F7 |')).toEqual(['bar-long 1:10+2']);
  });

  it('keeps alternatives and optional chords apart', () => {
    const [first, second, third] = bars('Dm7;Ab7 | Dm7 [Ab7] G7 | (A7)');
    expect(
      first!.chords.map(({ chord, alternates }) => [chord?.symbol, alternates.map((c) => c.symbol)]),
    ).toEqual([['Dm7', ['Ab7']]]);
    expect(
      second!.chords.map(({ chord, alternates }) => [chord?.symbol, alternates.map((c) => c.symbol)]),
    ).toEqual([
      ['Dm7', ['Ab7']],
      ['G7', []],
    ]);
    expect(third!.chords[0]!.optional).toBe(true);
    expect(first!.chords[0]!.optional).toBe(false);
  });

  it('takes all chords of a bracket as optional, over bar lines, too', () => {
    const optional = (text: string): string =>
      bars(text)
        .map(({ chords }) => chords.map((one) => `${one.chord?.symbol}${one.optional ? '?' : ''}`).join(' '))
        .join(' | ');
    expect(optional('C6 (A7 | Dm7 G7) C6')).toBe('C6 A7? | Dm7? G7? C6');
    expect(optional('(A7 | % | Dm7) | G7')).toBe('A7? | A7? | Dm7? | G7');
    expect(optional('(A7 | Em7 / | Dm7 G7) |: C6 :|')).toBe('A7? | Em7? | Dm7? G7? | C6');
    expect(told('C6 (A7 | Dm7 G7)')).toEqual([]);
  });

  it('says where a bracket does not close in its line, and where one closes nothing', () => {
    expect(told('C6 (A7 | Dm7 G7\nC6')).toEqual(['bracket-open 1:4+3']);
    expect(bars('C6 (A7 | Dm7\nC6').map(({ chords }) => chords.at(-1)!.optional)).toEqual([
      true,
      true,
      false,
    ]);
    expect(told('C6 | Dm7 G7)')).toEqual(['bracket-nothing 1:10+3']);
    expect(told('(C6) A7) | (Dm7 (G7) C6)')).toEqual(['bracket-nothing 1:6+3']);
  });

  it('joins symbols with blanks inside', () => {
    const symbols = (text: string): readonly (string | undefined)[] =>
      bars(text)[0]!.chords.map(({ chord }) => chord?.symbol);
    expect(symbols('C maj7 F7')).toEqual(['Cmaj7', 'F7']);
    expect(symbols('C7 sus4')).toEqual(['C7sus4']);
    expect(symbols('C7 b9 F7')).toEqual(['C7b9', 'F7']);
    expect(symbols('C7 B9')).toEqual(['C7', 'B9']);
    expect(symbols('C7 (b9, #11)')).toEqual(symbols('C7(b9,#11)'));
    expect(symbols('C over E')).toEqual(['C/E']);
    expect(symbols('C / E')).toEqual(['C/E']);
    expect(symbols('C / E /')).toEqual(['C', 'E']);
    expect(symbols('C /E /Eb')).toEqual(['C', 'C/E', 'C/Eb']);
  });
});

describe('bars and signs', () => {
  const flags = (text: string): readonly string[] =>
    bars(text).map((bar) =>
      [
        bar.section ?? '',
        bar.repeatStart ? '|:' : '',
        bar.ending?.join(',') ?? '',
        bar.segno ? 'segno' : '',
        bar.coda ? 'coda' : '',
        bar.fine ? 'Fine' : '',
        bar.toCoda ? 'To Coda' : '',
        bar.jump ?? '',
        bar.repeatEnd === null ? '' : `:|${bar.repeatEnd}`,
        bar.doubleBar ? '||' : '',
      ]
        .filter(Boolean)
        .join(' '),
    );

  it.each([
    ['|: C7 | F7 :| x3', ['|:', ':|3']],
    ['| C7 || F7 |]', ['||', '||']],
    ['[A] C7 | [B] F7', ['A', 'B']],
    ['[A]\n| C7 |\nBridge\n| F7 |', ['A', 'Bridge']],
    ['Verse 2: C7 | F7', ['Verse 2', '']],
    ['|: C7 |1 F7 | G7 :|2 A7 | B7 || C7', ['|:', '1', '1 :|2', '2', '2 ||', '']],
    ['|: C7 |1 F7 :|2 G7 | A7 |\nB7', ['|:', '1 :|2', '2', '2', '']],
    ['segno C7 | F7 To Coda | G7 D.S. al Coda || coda A7', ['segno', 'To Coda', 'D.S. al Coda ||', 'coda']],
    ['𝄋 C7 | F7 Fine | G7 Dal Segno al Fine', ['segno', 'Fine', 'D.S. al Fine']],
    ['[Coda] C7', ['Coda coda']],
    ["[A'] C7 | [A2] F7 | [Ab] G7", ["A'", 'A2', '']],
  ])('reads %s', (text, expected) => {
    expect(flags(text)).toEqual(expected);
  });

  it('says which simile stands for which bar', () => {
    expect(bars('C7 | % | F7 | %% | G7').map(({ simile }) => simile)).toEqual([null, 1, null, 2, 2, null]);
  });

  it('gives each bar the place of its words', () => {
    const [first, second] = bars('| C7 F7 |\n| G7 |');
    expect(first!.span).toEqual({ line: 1, column: 3, length: 5 });
    expect(second!.chords[0]!.span).toEqual({ line: 2, column: 3, length: 2 });
  });
});

describe('problems', () => {
  const problemsOf = (text: string): readonly Problem[] => readChart(text).problems;

  it('have a place in the text as typed, a severity and a sentence', () => {
    expect(problemsOf('\ufeff| C7\u00a0|\r\n|\tF7 Bq7 |')).toMatchObject([
      { line: 2, column: 6, severity: 'error', code: expect.stringMatching(/^chord-/u) as unknown },
    ]);
  });

  it('point into the middle of a symbol of several words', () => {
    expect(problemsOf('| C7 (b9, #12) |')[0]).toMatchObject({ line: 1, column: 11 });
  });

  it('leave the other bars as they are', () => {
    expect(places('C7 | Zz | F7 Wq | G7')).toEqual(['C7 0+1920', 'C7 0+1920', 'F7 0+1920', 'G7 0+1920']);
  });

  it('are a hundred at most, then a number', () => {
    const problems = problemsOf('| Bq '.repeat(500));
    expect(problems).toHaveLength(101);
    expect(problems.at(-1)).toMatchObject({ code: 'problems-many', message: 'And 400 more problems.' });
  });

  it('tell of an empty text', () => {
    for (const text of ['', '\n\n', '# nothing', 'Title: Nothing Yet']) {
      expect(problemsOf(text).map(({ code }) => code)).toEqual(['chart-empty']);
    }
  });

  it('never quote a long text in full', () => {
    for (const { message } of problemsOf(`| C${'q'.repeat(5000)} | Key: |\n{${'x'.repeat(40)}} C7`)) {
      expect(message.length).toBeLessThan(300);
    }
  });
});

describe('limits', () => {
  it('reads ten thousand bars', () => {
    const { chart, problems } = readChart('| Dm7 G7 | Cmaj7 / A7 / | Bbm7b5;Eb7 (Ab7) | % |\n'.repeat(2500));
    expect(chart.bars).toHaveLength(10_000);
    expect(problems).toEqual([]);
  });

  it('reads no more than twenty thousand bars, 400,000 characters, 64 signs a bar', () => {
    expect(told('C|'.repeat(30_000))).toEqual(['bars-many 1:40001+1']);
    expect(readChart(`C7 |${' '.repeat(400_000)}`).problems.map(({ code }) => code)).toEqual(['text-long']);
    expect(readChart('/ '.repeat(1000)).problems.map(({ code }) => code)).toContain('bar-signs');
  });

  it('reads any bytes without hanging', () => {
    const bytes = Array.from({ length: 65_536 }, (_, code) => String.fromCharCode(code)).join('');
    expect(readChart(bytes).problems.length).toBeLessThanOrEqual(101);
    for (const sign of ['|:', '(', '[', ':', ';', '%', '|1', 'D.S. ', '{', ') ']) {
      expect(readChart(sign.repeat(20_000)).problems.length).toBeLessThanOrEqual(101);
    }
  });
});
