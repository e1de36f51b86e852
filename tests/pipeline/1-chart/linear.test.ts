// Ten times the chart takes about ten times as long to read. Time of the processor is counted, not of the clock, and bounds
// are wide, since machines are busy; what they catch is a reader that goes over the whole text again for every bar.
import { cpuUsage } from 'node:process';
import { describe, expect, it } from 'vitest';
import { readChart } from '../../../src/pipeline/1-chart';
import { importText } from '../../../src/pipeline/1-chart/import';
import { chartToAbc, chartToMusicXml } from '../../../src/export';

const lines = [
  '| F7 | Bb7 | F7 | Cm7 F7 |',
  '|: Bb7 | Bdim7 | F7 / / Am7b5 |1 D7b9 :|2 (Ab7) ||',
  '[B]',
  '| Gm7 {dorian} | C7alt;Gb7 | % | F6/9 |',
];
const chartBars = 12;
const text = (bars: number): string =>
  `Title: Long\nKey: F\n${Array.from({ length: bars / chartBars }, () => lines.join('\n')).join('\n')}\n`;
/** Texts that make a reader look far ahead. */
const awkward: Readonly<Record<string, (bars: number) => string>> = {
  'a plain chart': text,
  'a chart on one line': (bars) => text(bars).replaceAll('\n[B]\n', ' ').replaceAll('\n|', ' |'),
  'a bar a line without bar lines': (bars) => 'Dm7\nG7\n'.repeat(bars / 2),
  'repeats that are never closed': (bars) => '|: C7 '.repeat(bars),
  'brackets that are never closed': (bars) => '| C7 ( [ { '.repeat(bars),
  'endings without end': (bars) => '|1 C7 |2 F7 '.repeat(bars / 2),
  'words instead of chords': (bars) => '| the quiet street\n'.repeat(bars),
  'lines of a page': (bars) => '> - **A7** ` \\| |---|\n'.repeat(bars / 2),
};

/** Least milliseconds of the processor that some runs took. */
function least(run: () => void): number {
  const times = Array.from({ length: 3 }, () => {
    const start = cpuUsage();
    run();
    const { user, system } = cpuUsage(start);
    return (user + system) / 1_000;
  });
  return Math.min(...times);
}

const mostMilliseconds = 5_000;
const mostRatio = 25;
const leastMeasured = 10;

function expectLinear(read: (text: string) => unknown, short: string, long: string): void {
  read(short);
  const once = least(() => read(short));
  const tenfold = least(() => read(long));
  expect(tenfold).toBeLessThan(mostMilliseconds);
  // A very quick run is measured too coarsely to be compared.
  expect(tenfold / Math.max(once, leastMeasured)).toBeLessThan(mostRatio);
}

describe('reading ten times the bars', () => {
  it.each(Object.entries(awkward))('of %s', (_name, make) => {
    expectLinear(readChart, make(1_000), make(10_000));
  });

  // Files are a hundred times as long as the text of the same bars, and limited in size before they are read.
  it.each([
    ['MusicXML', chartToMusicXml],
    ['ABC', chartToAbc],
  ] as const)('of %s', (_name, write) => {
    const of = (bars: number): string => write(readChart(text(bars)).chart);
    expectLinear(importText, of(300), of(3_000));
  });
});
