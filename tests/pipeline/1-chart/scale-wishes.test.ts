// Scales asked for in the chart text: read, refused, printed, carried by held chords, put in and taken out of a text.
import { describe, expect, it, test } from 'vitest';
import { parseScaleName, scaleNames } from '../../../src/music';
import {
  importText,
  makeTimeline,
  printChart,
  readChart,
  transposeChart,
  withScale,
} from '../../../src/pipeline';
import { chartToAbc, chartToMusicXml } from '../../../src/export';
import { parseKey } from '../../../src/music';

const wishes = (text: string): readonly (string | undefined)[] =>
  readChart(text).chart.bars.flatMap(({ chords }) => chords.map(({ scale }) => scale));
const codes = (text: string): readonly string[] => readChart(text).problems.map(({ code }) => code);
const harmony = (text: string): readonly string[] => {
  const { timeline } = makeTimeline(readChart(text).chart, { choruses: 1, tempo: null });
  return timeline!.bars.flatMap(({ chords }) => chords.map(({ scale }) => scale?.name ?? '-'));
};

describe('names of scales', () => {
  test.each([
    ['lydian dominant', 'lydian dominant'],
    ['Lydian ♭7', 'lydian dominant'],
    ['lyd dom', 'lydian dominant'],
    ['mixolydian #11', 'lydian dominant'],
    ['alt', 'altered'],
    ['super-locrian', 'altered'],
    ['locrian ♮2', 'locrian natural 2'],
    ['dorian b2', 'dorian flat 2'],
    ['half whole', 'half-whole diminished'],
    ['Half-Whole', 'half-whole diminished'],
    ['diminished', 'whole-half diminished'],
    ['wholetone', 'whole tone'],
    ['natural minor', 'aeolian'],
    ['jazz minor', 'melodic minor'],
  ])('%s is %s', (typed, name) => expect(parseScaleName(typed)).toBe(name));

  it('reads its own names', () => {
    for (const name of scaleNames) expect(parseScaleName(name)).toBe(name);
  });
  test.each(['', 'b9', 'C7', 'pickup', 'x'.repeat(1e5)])('%j is none', (typed) =>
    expect(parseScaleName(typed)).toBeUndefined(),
  );
});

describe('a scale in braces', () => {
  it('belongs to the chord before it', () => {
    expect(wishes('| Dm7 G7{altered} | C7 {lydian dominant} / F / |')).toEqual([
      undefined,
      'altered',
      'lydian dominant',
      undefined,
    ]);
    expect(codes('| Dm7 G7{altered} | C7 {lydian dominant} / F / |')).toEqual([]);
  });
  it('may name its chord', () => {
    expect(wishes('| Bb7{Bb lydian dominant} |')).toEqual(['lydian dominant']);
    expect(codes('| Bb7{C lydian dominant} |')).toEqual(['scale-unknown']);
  });
  it('holds as long as the chord goes on, and in a simile', () => {
    expect(wishes('| C7{altered} | / / / / | % | C7 |')).toEqual([
      'altered',
      'altered',
      'altered',
      undefined,
    ]);
  });
  it('leaves meters, keys and pickups alone', () => {
    expect(codes('| {3/4} C7{altered} | {Key: F} F | {4/4} C7 |')).toEqual([]);
    expect(readChart('{pickup} C7 | F |').chart.bars[0]!.pickup).toBe(true);
  });
  it('stands behind alternatives and brackets as they stand behind it', () => {
    const { chart, problems } = readChart('| C7{altered};Gb7 (Gm7{dorian} C7) |');
    expect(problems).toEqual([]);
    expect(chart.bars[0]!.chords.map(({ scale, alternates }) => [scale, alternates.length])).toEqual([
      ['altered', 1],
      ['dorian', 0],
      [undefined, 0],
    ]);
  });
  it('is told when it is not known, with the nearest names and its place', () => {
    const [problem] = readChart('| C7{lidian dominat} |').problems;
    expect(problem).toMatchObject({ code: 'scale-unknown', line: 1, column: 5, length: 16 });
    expect(problem!.message).toContain('lydian dominant');
    expect(codes('| {altered} C7 |')).toEqual(['scale-without-chord']);
    expect(codes('| N.C. {altered} |')).toEqual(['scale-without-chord']);
    expect(codes('| C7{} |')).toEqual(['scale-unknown']);
  });
  it('decides what the line walks through', () => {
    expect(harmony('Key: F\n| C7 | F |')).toEqual(['C mixolydian', 'F ionian']);
    expect(harmony('Key: F\n| C7{altered} | F |')).toEqual(['C altered', 'F ionian']);
  });
  it('keeps every tone of the symbol', () => {
    const { timeline } = makeTimeline(readChart('| C7{ionian} |').chart, { choruses: 1, tempo: null });
    expect(timeline!.bars[0]!.chords[0]!.scale!.notes).toEqual(['C', 'D', 'E', 'F', 'G', 'A', 'Bb']);
    expect(timeline!.bars[0]!.chords[0]!.whyScale).toEqual({
      name: 'ionian',
      reason: 'chosen',
      usual: 'mixolydian',
      next: null,
    });
  });
  it('moves with its chord and comes back through every kind of file', () => {
    const { chart } = readChart('Key: F\n| C7{lydian dominant} F7 | Bb7{half-whole diminished} |');
    const moved = transposeChart(chart, parseKey('Ab')!);
    for (const text of [printChart(moved), chartToMusicXml(moved), chartToAbc(moved)]) {
      const back = importText(text);
      expect(back.problems).toEqual([]);
      expect(
        back.chart.bars.map(({ chords }) => chords.map(({ chord, scale }) => [chord?.symbol, scale])),
      ).toEqual([
        [
          ['Eb7', 'lydian dominant'],
          ['Ab7', undefined],
        ],
        [['Db7', 'half-whole diminished']],
      ]);
    }
  });
});

describe('withScale', () => {
  const text = 'Key: F\r\n| C7 / / F7 | Bb7{altered} |\r\n';
  const spanOf = (bar: number, chord: number) => readChart(text).chart.bars[bar]!.chords[chord]!.span!;

  it('puts a scale behind a chord, in place of one that stands there, and takes it away', () => {
    expect(withScale(text, spanOf(0, 0), 'altered')).toBe(text.replace('C7', 'C7{altered}'));
    expect(withScale(text, spanOf(0, 1), 'dorian')).toBe(text.replace('F7', 'F7{dorian}'));
    expect(withScale(text, spanOf(1, 0), 'whole tone')).toBe(text.replace('altered', 'whole tone'));
    expect(withScale(text, spanOf(1, 0), null)).toBe(text.replace('{altered}', ''));
    expect(withScale(text, spanOf(0, 0), null)).toBe(text);
  });
  it('leaves braces that say something else, and texts without the place', () => {
    const other = '| C7 | {3/4} F |';
    expect(withScale(other, { line: 1, column: 3, length: 2 }, 'altered')).toBe('| C7{altered} | {3/4} F |');
    expect(withScale(other, { line: 4, column: 3, length: 2 }, 'altered')).toBe(other);
    expect(withScale(other, { line: 1, column: 99, length: 2 }, 'altered')).toBe(other);
  });
});

describe('modal keys', () => {
  it('keeps the mode on paper and in files', () => {
    const { chart } = readChart('Key: D dorian\n| Dm7 | Em7 | {Key: G mixolydian} G7 |');
    expect(chart.header.key).toMatchObject({ tonic: 'D', mode: 'minor', church: 'dorian', fifths: 0 });
    for (const text of [printChart(chart), chartToMusicXml(chart), chartToAbc(chart)]) {
      const back = importText(text);
      expect(back.problems).toEqual([]);
      expect(back.chart.header.key).toEqual(chart.header.key);
      expect(back.chart.bars[2]!.keyChange).toMatchObject({ tonic: 'G', church: 'mixolydian' });
    }
  });
  it('takes the notes of the mode', () => {
    expect(harmony('Key: D dorian\n| Dm7 | Em7 | Dm6 | G |')).toEqual([
      'D dorian',
      'E phrygian',
      'D dorian',
      'G mixolydian',
    ]);
    expect(harmony('Key: E phrygian\n| Em7 | Fmaj7 | Em |')).toEqual([
      'E phrygian',
      'F lydian',
      'E phrygian',
    ]);
    expect(harmony('Key: G mixolydian\n| G | F |')).toEqual(['G mixolydian', 'F lydian']);
  });
  it('moves as a mode', () => {
    const moved = transposeChart(readChart('Key: D dorian\n| Dm7 |').chart, parseKey('F minor')!);
    expect(moved.header.key).toMatchObject({ tonic: 'F', church: 'dorian', fifths: -3 });
  });
});
