import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { makeKey, parseKey, pitchClassOf, printKey } from '../../../src/music';
import { printChart, readChart, transposeChart, type Chart } from '../../../src/pipeline/1-chart';
import { plainChart } from './plain-chart';

const folder = new URL('../../../shared/charts/', import.meta.url);
const chartFiles = readdirSync(folder).filter((name) => name.endsWith('.txt'));
const chartOf = (name: string): Chart => readChart(readFileSync(new URL(name, folder), 'utf8')).chart;
const key = (text: string): NonNullable<ReturnType<typeof parseKey>> => parseKey(text)!;
const symbols = (chart: Chart): string =>
  chart.bars.map(({ chords }) => chords.map(({ chord }) => chord?.symbol ?? 'N.C.').join(' ')).join(' | ');

describe('printing', () => {
  it.each(chartFiles)('%s reads the same again', (name) => {
    const chart = chartOf(name);
    const again = readChart(printChart(chart));
    expect(again.problems).toEqual([]);
    expect(plainChart(again.chart)).toEqual(plainChart(chart));
  });

  it('writes signs, places and changes in our own form', () => {
    const text = [
      'Title: Every Sign',
      'Key: C minor',
      'Meter: 4/4',
      'Tempo: 96',
      'Feel: swing',
      '',
      '[A]',
      '|: segno Cm7 / / F7 | % |1 (G7) Cm7;Ebmaj7 :|2 Fm7 / / /. G7 . To Coda ||',
      '',
      '[B]',
      '| {3/4} {Key: Eb} Ebmaj7 Bb7 | %% | Eb6 D.S. al Coda ||',
      '',
      '[Coda]',
      '|: Cm6 :| x3 || N.C. |]',
      '',
    ].join('\n');
    const reading = readChart(text);
    expect(reading.problems.map(({ code }) => code)).toEqual([]);
    expect(printChart(reading.chart)).toBe(text);
  });

  it('writes a section name that could be a chord before a colon', () => {
    const { chart } = readChart('F7: \n| C7 |\nD: | G7 |');
    expect(chart.bars.map(({ section }) => section)).toEqual(['F7', 'D']);
    expect(plainChart(readChart(printChart(chart)).chart)).toEqual(plainChart(chart));
  });

  it('gives a chart without bars as its heading', () => {
    const { chart } = readChart('Title: Nothing Yet\nTempo: 100');
    expect(printChart(chart)).toBe('Title: Nothing Yet\nMeter: 4/4\nTempo: 100\nFeel: swing\n\n');
  });

  it('keeps places off the grid to the tick', () => {
    const { chart } = readChart('F7 / / D7');
    const [bar] = chart.bars;
    const [first, second] = bar!.chords;
    const moved = {
      ...chart,
      bars: [
        {
          ...bar!,
          chords: [
            { ...first!, length: 1400 },
            { ...second!, offset: 1400, length: 520 },
          ],
        },
      ],
    };
    expect(printChart(moved)).toContain('F7 D7@3+11/12');
    expect(plainChart(readChart(printChart(moved)).chart)).toEqual(plainChart(moved));
  });
});

describe('transposing', () => {
  const blues = chartOf('back-stairs-blues.txt');

  it('moves every chord and the key', () => {
    const moved = transposeChart(blues, key('Bb'));
    expect(moved.header.key).toEqual(key('Bb'));
    expect(symbols(moved)).toBe(
      'Bb7 | Eb7 | Bb7 | Fm7 Bb7 | Eb7 | Edim7 | Bb7 | Dm7b5 G7 | Cm7 | F7 | Bb7 G7 | Cm7 F7',
    );
  });

  it('keeps the mode of the chart', () => {
    expect(printKey(transposeChart(chartOf('wet-gravel-blues.txt'), key('A')).header.key!)).toBe('A minor');
  });

  it('moves key changes along and never needs more than seven accidentals', () => {
    // C# major up a major third would be E# major, with eleven sharps.
    const { chart } = readChart('Key: C\n| C6 | {Key: Ab} Ab6 | {Key: C#} C#6 |');
    for (const tonic of ['C#', 'Cb', 'F#', 'Gb', 'B', 'Db', 'G#']) {
      const moved = transposeChart(chart, key(tonic));
      for (const { keyChange } of moved.bars) {
        if (keyChange !== null) expect(Math.abs(keyChange.fifths)).toBeLessThanOrEqual(7);
      }
      expect(Math.abs(moved.header.key!.fifths)).toBeLessThanOrEqual(7);
    }
  });

  it('goes through all twelve keys and back to the same sounds', () => {
    for (const name of chartFiles) {
      const chart = chartOf(name);
      const home = chart.header.key!;
      for (const tonic of ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B']) {
        const there = transposeChart(chart, makeKey(key(tonic).tonic, home.mode));
        const back = transposeChart(there, home);
        const sounds = (some: Chart): unknown =>
          some.bars.map((bar) =>
            bar.chords.map(({ chord }) => [
              chord?.tones.map(({ pitchClass }) => pitchClass),
              chord?.bass ? pitchClassOf(chord.bass) : null,
            ]),
          );
        expect(sounds(back)).toEqual(sounds(chart));
        expect(readChart(printChart(there)).problems).toEqual([]);
      }
    }
  });

  it('infers the key when the chart names none', () => {
    const { chart } = readChart('| Cm7 F7 | Bbmaj7 | Cm7 F7 | Bb6 |');
    expect(symbols(transposeChart(chart, key('C')))).toBe('Dm7 G7 | Cmaj7 | Dm7 G7 | C6');
  });
});
