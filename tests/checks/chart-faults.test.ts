// Faults that are known of programs that read chords and forms, each by its number, with the input that brought it out and
// others of its kind. Tones are those of any jazz theory text; forms are common practice, no source.
import { describe, expect, it, test } from 'vitest';
import {
  alterationOf,
  makeKey,
  noteName,
  parseChord,
  parseKey,
  chordFromMusicXml,
  sameKey,
  type Key,
  type XmlDegree,
} from '../../src/music';
import { chartOf, importText, makeTimeline, readChart } from '../../src/pipeline';

/** "C E G / bass E", or the code of what was said instead. */
function tonesOf(symbol: string): string {
  const reading = parseChord(symbol);
  if (reading.kind === 'refused') return reading.code;
  if (reading.kind === 'bass only') return `bass ${reading.bass}`;
  if (reading.kind === 'no chord') return 'N.C.';
  const { tones, bass } = reading.chord;
  return `${tones.map(({ note }) => note).join(' ')}${bass === null ? '' : ` / ${bass}`}`;
}
const remarksOf = (symbol: string): readonly string[] => {
  const reading = parseChord(symbol);
  return reading.kind === 'chord' ? reading.remarks.map(({ code }) => code) : [];
};

/** The chords of every bar in playing order, whatever kind of text they came in. */
function played(text: string): string {
  const { timeline } = makeTimeline(importText(text).chart, { choruses: 1, tempo: null });
  return (timeline?.bars ?? [])
    .map(({ chords }) => chords.map(({ chord }) => chord?.symbol ?? 'N.C.').join('+'))
    .join(' ');
}
const tune = (body: string, header = ''): string => `X:1\nM:4/4\nL:1/4\n${header}K:C\n${body}\n`;

test('C-01: the library of note arithmetic loads where the tests run as it does in the page', async () => {
  // One module uses it; that it loads here, in the command line and in the browser is what every other test relies on.
  const { Note } = await import('tonal');
  expect(Note.midi('E1')).toBe(28);
});

describe('C-02: brackets, commas and blanks are punctuation', () => {
  test.each([
    ['C7(b9)', 'C7b9'],
    ['Cm7(b5)', 'Cm7b5'],
    ['C(add9)', 'Cadd9'],
    ['Cm(maj7)', 'CmMaj7'],
    ['C7(#5,#9)', 'C7#5#9'],
    ['C7(b9)(b13)', 'C7b9b13'],
    ['C7(sus4)', 'C7sus4'],
    ['C7(alt)', 'C7alt'],
    ['C7 ( b9 , #11 )', 'C7b9#11'],
    ['C-7(♭5)', 'Cm7b5'],
    ['C7[b9]', 'C7b9'],
  ])('%s is %s', (typed, plain) => {
    expect(tonesOf(typed)).toBe(tonesOf(plain));
    expect(parseChord(plain).kind).toBe('chord');
  });
  it('(C7) is a chord one may leave out', () => {
    expect(parseChord('(C7)')).toMatchObject({ kind: 'chord', optional: true });
    expect(tonesOf('(C7)')).toBe('C E G Bb');
  });
});

describe('C-03: signs of print', () => {
  test.each([
    ['B♭7', 'Bb D F Ab'],
    ['F♯m7', 'F# A C# E'],
    ['Cø7', 'C Eb Gb Bb'],
    ['C∅7', 'C Eb Gb Bb'],
    ['C△7', 'C E G B'],
    ['C∆7', 'C E G B'],
    ['CΔ7', 'C E G B'],
    ['C−7', 'C Eb G Bb'],
    ['C–7', 'C Eb G Bb'],
    ['Cº7', 'C Eb Gb Bbb'],
    ['C°7', 'C Eb Gb Bbb'],
    ['C7♭9', 'C E G Bb Db'],
    ['D/F♯', 'D F# A / F#'],
    ['E♭7/B♭', 'Eb G Bb Db / Bb'],
    ['C♮7', 'C E G Bb'],
  ])('%s', (symbol, tones) => expect(tonesOf(symbol)).toBe(tones));

  it('come through ABC, with two names over one note as a choice', () => {
    const { chart, problems } = importText(tune('"B♭7/A♭"z "F♯m7♭5"z "C/B♭"z "C^7"z | "Cm7""F7"z4 |'));
    expect(problems).toEqual([]);
    expect(chart.bars.map(({ chords }) => chords.map(({ chord }) => chord?.symbol))).toEqual([
      ['Bb7/Ab', 'F#m7b5', 'C/Bb', 'Cmaj7'],
      ['Cm7'],
    ]);
    expect(chart.bars[1]!.chords[0]!.alternates.map(({ symbol }) => symbol)).toEqual(['F7']);
  });
});

describe('C-04: a flat five takes the place of the natural one', () => {
  test.each([
    'C7b5b9',
    'C7b9b5',
    'C7b5#9',
    'C7#9b5',
    'C7b5b13',
    'C9b5b13',
    'C7b5b9b13',
    'C6b5',
    'CM6b5',
    'C7(b5)(b9)',
    'C13b5',
  ])('%s', (symbol) => {
    const tones = tonesOf(symbol).split(' ');
    expect(tones).toContain('Gb');
    expect(tones).not.toContain('G');
  });
  test.each(['C7#11', 'C9#11', 'C13#11', 'Cmaj7#11'])('a sharp eleven does not: %s', (symbol) => {
    expect(tonesOf(symbol).split(' ')).toEqual(expect.arrayContaining(['G', 'F#']));
  });
});

describe('C-05: the flat of a root and the flat of a number', () => {
  test.each([
    ['Ab5', 'Ab Eb', 0],
    ['Bb9', 'Bb D F Ab C', 0],
    ['Eb9', 'Eb G Bb Db F', 0],
    ['B-9', 'B D F# A C#', 0],
    ['Bb-7', 'Bb Db F Ab', 0],
    ['Abb5', 'Ab C Ebb', 1],
    ['Bbb9', 'Bb D F Cb', 1],
    ['Cb9sus', 'Cb Fb Gb Bbb Db', 1],
    ['C#5', 'C# G#', 1],
  ])('%s', (symbol, tones, remarks) => {
    expect(tonesOf(symbol)).toBe(tones);
    expect(remarksOf(symbol)).toHaveLength(remarks);
  });
});

describe('C-06: a digit after the root is no octave', () => {
  test.each([
    ['C2', 'C E G D'],
    ['C4', 'C F G'],
    ['C5', 'C G'],
    ['C6', 'C E G A'],
    ['C7', 'C E G Bb'],
    ['C69', 'C E G A D'],
    ['C-7', 'C Eb G Bb'],
  ])('%s', (symbol, tones) => expect(tonesOf(symbol)).toBe(tones));
});

describe('C-07: a word without a root is told, at its column', () => {
  test.each(['add9', 'dim7', 'm7', '7', 'sus4', '-', 'alt7'])('%s', (word) => {
    expect(parseChord(word).kind).toBe('refused');
    const { problems } = readChart(`| C7 | ${word} | F7 |`);
    expect(problems).toMatchObject([{ severity: 'error', line: 1, column: 8, length: word.length }]);
    expect(problems[0]!.message).toMatch(/root|not a chord/);
  });
  it('/E keeps the chord before it and changes the bass', () => {
    expect(played('| C7 /E | F7 |')).toBe('C7+C7/E F7');
    expect(readChart('| C7 /E | F7 |').problems).toEqual([]);
  });
});

describe('C-09: only the last slash before a bare note is a bass', () => {
  test.each([
    ['C6/9', 'C E G A D'],
    ['C6/9/E', 'C E G A D / E'],
    ['Bb6/9/F', 'Bb D F G C / F'],
    ['Cm6/9/G', 'C Eb G A D / G'],
    ['Cm/maj7/G', 'C Eb G B / G'],
    ['C / E', 'C E G / E'],
    ['C/e', 'C E G / E'],
    ['C7/13', 'C E G Bb A'],
  ])('%s', (symbol, tones) => expect(tonesOf(symbol)).toBe(tones));
});

const degree = (value: number, alter: number, type: XmlDegree['type']): XmlDegree => ({
  value,
  alter,
  type,
});

function fileTones(root: string, kind: string, degrees: readonly XmlDegree[]): string {
  const reading = chordFromMusicXml({ root, kind, degrees });
  return reading.kind === 'chord' ? reading.chord.tones.map(({ note }) => note).join(' ') : reading.kind;
}
const inOrder = (tones: string): string => tones.split(' ').sort().join(' ');

describe('C-12: suspended dominants', () => {
  test.each([
    ['C7sus4b9', 'C F G Bb Db'],
    ['C7susb9', 'C F G Bb Db'],
    ['C7sus(b9)', 'C F G Bb Db'],
    ['C9(sus4)', 'C F G Bb D'],
    ['Csus7', 'C F G Bb'],
    ['Csus9', 'C F G Bb D'],
  ])('%s', (symbol, tones) => expect(tonesOf(symbol)).toBe(tones));

  test.each([
    ['a dominant without its third', 'dominant-13th', [degree(3, 0, 'subtract'), degree(4, 0, 'add')]],
    [
      'a suspension with more above it',
      'suspended-fourth',
      [degree(7, 0, 'add'), degree(9, 0, 'add'), degree(13, 0, 'add')],
    ],
  ] as const)('in a file, as %s', (_how, kind, degrees) => {
    expect(inOrder(fileTones('Eb', kind, degrees))).toBe(inOrder('Eb Ab Bb Db F C'));
  });
});

describe('C-13: degrees in a file', () => {
  test.each([
    ['minor', [degree(7, 0, 'add')], 'C Eb G Bb'],
    ['minor', [degree(7, 1, 'add')], 'C Eb G B'],
    ['minor-seventh', [degree(5, -1, 'alter')], 'C Eb Gb Bb'],
    ['half-diminished', [], 'C Eb Gb Bb'],
    ['dominant', [degree(9, -1, 'alter')], 'C E G Bb Db'],
    ['major-minor', [], 'C Eb G B'],
  ] as const)('%s with %j', (kind, degrees, tones) => expect(fileTones('C', kind, degrees)).toBe(tones));
});

describe('C-16: a small letter is a root all the same', () => {
  test.each([
    ['dm7', 'D F A C'],
    ['g7', 'G B D F'],
    ['bb7', 'Bb D F Ab'],
    ['ebm7', 'Eb Gb Bb Db'],
    ['ab', 'Ab C Eb'],
    ['b', 'B D# F#'],
    ['bbm7b5', 'Bb Db Fb Ab'],
  ])('%s', (symbol, tones) => {
    expect(tonesOf(symbol)).toBe(tones);
    expect(remarksOf(symbol)).not.toEqual([]);
  });
});

describe('C-17: omissions', () => {
  test.each([
    ['C7no3', 'C G Bb'],
    ['C7(omit3)', 'C G Bb'],
    ['C(no5)', 'C E'],
    ['Cno3', 'C G'],
    ['Co omit5', 'C Eb'],
    ['C9no3', 'C G Bb D'],
    ['Cm7no5', 'C Eb Bb'],
  ])('%s', (symbol, tones) => expect(tonesOf(symbol)).toBe(tones));
});

describe('C-19: no key with more than seven accidentals', () => {
  const key = (text: string): Key => parseKey(text)!;
  test.each([
    ['C# major', 'E#', 'major', 'F major'],
    ['Bb minor', 'Db', 'minor', 'C# minor'],
    ['C major', 'G#', 'major', 'Ab major'],
    ['C major', 'D#', 'major', 'Eb major'],
    ['C major', 'Fb', 'major', 'E major'],
    ['C minor', 'Db', 'minor', 'C# minor'],
  ] as const)('a chart in %s asked for in %s %s', (from, tonic, mode, arrival) => {
    const to = makeKey(noteName(tonic), mode);
    expect(sameKey(to, key(arrival))).toBe(true);
    expect(Math.abs(to.fifths)).toBeLessThanOrEqual(7);
    const { chart } = chartOf({ chartText: `Key: ${from}\n| ${key(from).tonic}6 | `, key: to });
    const root = chart.bars[0]!.chords[0]!.chord!.root;
    expect(root).toBe(to.tonic);
    expect(Math.abs(alterationOf(root))).toBeLessThanOrEqual(1);
  });
});

/** Inputs and the bars in playing order. */
type Cases = readonly (readonly [text: string, bars: string])[];

const endings: Cases = [
  ['|: Cm7 |1 F7 :|2 Bb7 :|3 Eb7 ||', 'Cm7 F7 Cm7 Bb7 Cm7 Eb7'],
  ['|: Dm7 |1 G7 :|2 C6 :| A7 |', 'Dm7 G7 Dm7 C6 A7'],
  ['|: Dm7 |1 G7 :|2 C6 :|\n| A7 |', 'Dm7 G7 Dm7 C6 A7'],
  ['|: Cm7 |1. F7 :|2. Bb7 :|3. Eb7 :|', 'Cm7 F7 Cm7 Bb7 Cm7 Eb7'],
];
describe('F-01: three endings, and a sign after the last', () => {
  test.each(endings)('%s', (text, bars) => expect(played(text)).toBe(bars));
  test.each([
    ['|: "Cm7"z4 |1 "F7"z4 :|2 "Bb7"z4 :|3 "Eb7"z4 ||', 'Cm7 F7 Cm7 Bb7 Cm7 Eb7'],
    ['|: "Dm7"z4 |1 "G7"z4 :|2 "C6"z4 :| "A7"z4 |', 'Dm7 G7 Dm7 C6 A7'],
  ])('ABC: %s', (body, bars) => expect(played(tune(body))).toBe(bars));
});

const lists: Cases = [
  ['|: C6 |1,3 A7 :|2 D7 :|4 G7 ||', 'C6 A7 C6 D7 C6 A7 C6 G7'],
  ['|: C6 |1-3 A7 :|4 G7 ||', 'C6 A7 C6 A7 C6 A7 C6 G7'],
  ['|: C6 |1, 2 A7 :|3 G7 ||', 'C6 A7 C6 A7 C6 G7'],
  ['|: C6 |1 {3/4} A7 | {4/4} E7 :|2 G7 ||', 'C6 A7 E7 C6 G7'],
];
describe('F-02: lists and ranges of passes, a meter that changes in an ending', () => {
  test.each(lists)('%s', (text, bars) => expect(played(text)).toBe(bars));
  it('the meter of the ending is its own', () => {
    const { timeline } = makeTimeline(readChart(lists[3]![0]).chart, { choruses: 1, tempo: null });
    expect(timeline!.bars.map(({ meter }) => meter.beats)).toEqual([4, 3, 4, 4, 4]);
  });
});

const jumps: Cases = [
  ['C7 | D7 Fine | E7 | F7 D.C. al Fine ||', 'C7 D7 E7 F7 C7 D7'],
  ['C7 | segno D7 | E7 To Coda | F7 D.S. al Coda || coda G7 | A7 ||', 'C7 D7 E7 F7 D7 E7 G7 A7'],
  ['|: C7 |1 D7 :|2 E7 Fine || F7 | G7 D.C. al Fine ||', 'C7 D7 C7 E7 F7 G7 C7 E7'],
  ['C7 | 𝄋 D7 | E7 Fine | F7 D.S. al Fine ||', 'C7 D7 E7 F7 D7 E7'],
];
describe('F-05: jumps are followed, and leave the endings alone', () => {
  test.each(jumps)('%s', (text, bars) => expect(played(text)).toBe(bars));
});

describe('F-08: the order of parts', () => {
  const bars = 'C6 A7 C6 A7 Dm7 G7 C6 A7';
  it.each(['AABA', 'A2BA', 'A A B A'])('of an ABC header: %s', (order) => {
    const body = 'P:A\n"C6"z4 | "A7"z4 |\nP:B\n"Dm7"z4 | "G7"z4 |';
    expect(played(tune(body, `P:${order}\n`))).toBe(bars);
  });
  it.each(['P:AABA', 'Form: A A B A', 'Form: AABA'])('of a chart: %s', (order) => {
    expect(played(`${order}\n\nP:A | C6 | A7 |\nP:B | Dm7 | G7 |`)).toBe(bars);
    expect(played(`${order}\n\n[A]\n| C6 | A7 |\n[B]\n| Dm7 | G7 |`)).toBe(bars);
  });
});

const tight: Cases = [
  ['| C7 F7::Bb7 |', 'C7+F7 C7+F7 Bb7'],
  ['| C7||:F7:|', 'C7 F7 F7'],
  ['|C7|F7:|', 'C7 F7 C7 F7'],
  ['|:C7|F7:||:Bb7|C7:|', 'C7 F7 C7 F7 Bb7 C7 Bb7 C7'],
];
describe('F-14: signs need no blanks', () => {
  test.each(tight)('%s', (text, bars) => expect(played(text)).toBe(bars));
  it('ABC: a note and a chord before :: survive', () => {
    expect(played(tune('|:"C7"G2 "F7"A2::"Bb7"B2 G2:|'))).toBe('C7+F7 C7+F7 Bb7 Bb7');
  });
});

describe('F-15: alternative changes are kept beside the main ones', () => {
  const alternate = `<?xml version="1.0"?><score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Lead</part-name></score-part></part-list><part id="P1"><measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes><harmony><root><root-step>D</root-step></root><kind>minor-seventh</kind></harmony><harmony type="alternate"><root><root-step>A</root-step><root-alter>-1</root-alter></root><kind>dominant</kind></harmony><note><rest/><duration>4</duration></note></measure></part></score-partwise>`;
  it.each([
    ['MusicXML', alternate],
    ['ABC, two names', tune('"Dm7""Ab7"z4 |')],
    ['ABC, a semicolon', tune('"Dm7;Ab7"z4 |')],
    ['a chart, a semicolon', '| Dm7;Ab7 |'],
    ['a chart, brackets', '| Dm7 [Ab7] |'],
  ])('%s', (_how, text) => {
    const [bar, ...more] = importText(text).chart.bars;
    expect(more).toEqual([]);
    expect(bar!.chords).toHaveLength(1);
    expect(bar!.chords[0]).toMatchObject({ offset: 0, length: 1920, chord: { symbol: 'Dm7' } });
    expect(bar!.chords[0]!.alternates.map(({ symbol }) => symbol)).toEqual(['Ab7']);
  });
});
