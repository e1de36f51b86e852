import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chartToAbc, chartToMusicXml } from '../../../src/export';
import { readChart } from '../../../src/pipeline';
import { importText } from '../../../src/pipeline/1-chart/import';
import { anyChart, comparable } from './any-chart';

const quiet = ['part-unknown', 'ending-gap', 'chord-file-degree'];

describe('a chart comes back the same', () => {
  it('through MusicXML', () => {
    fc.assert(
      fc.property(anyChart, (chart) => {
        const { kind, chart: read, line, problems } = importText(chartToMusicXml(chart));
        expect(kind).toBe('musicxml');
        expect(comparable(read)).toEqual(comparable(chart));
        expect(line).toBeNull();
        expect(problems.filter(({ code }) => !quiet.includes(code)).map(({ message }) => message)).toEqual(
          [],
        );
      }),
      { numRuns: 200 },
    );
  });

  it('through ABC', () => {
    fc.assert(
      fc.property(anyChart, (chart) => {
        const { kind, chart: read, problems } = importText(chartToAbc(chart));
        expect(kind).toBe('abc');
        expect(comparable(read)).toEqual(comparable(chart));
        expect(problems.filter(({ code }) => !quiet.includes(code)).map(({ message }) => message)).toEqual(
          [],
        );
      }),
      { numRuns: 200 },
    );
  });

  it.each([
    'Title: Blues\nKey: F\nTempo: 132\n[A]\n| F7 | Bb7 | % | Cm7 F7 |\n| Bb7 | %% | Gm7 C7 |',
    'Feel: waltz\nMeter: 3/4\n|: Cmaj7 | A7 |1 Dm7 | G7 :|2 Dm7 G7 | C6 ||',
    '[Intro]\n| C |\n[A]\n| D7 segno | E7 | To Coda F7 | G7 D.S. al Coda ||\n[Coda]\n| A7 | D |]',
  ])('as it was typed: %j', (text) => {
    const { chart } = readChart(text);
    expect(comparable(importText(chartToMusicXml(chart)).chart)).toEqual(comparable(chart));
    expect(comparable(importText(chartToAbc(chart)).chart)).toEqual(comparable(chart));
  });
});
