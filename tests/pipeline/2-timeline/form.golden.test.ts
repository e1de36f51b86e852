// Form cases as folders of readable text: chart.txt as somebody would type it, played.txt as it must be played.
// On a difference the actual text is written beside the expected one (played.actual.txt); set GOLDEN_UPDATE to the name
// of one case to take it over.
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { barTicks, beatTicks, meterText, readChart, type ChartBar } from '../../../src/pipeline/1-chart';
import { unroll } from '../../../src/pipeline/2-timeline';

const folder = new URL('../../golden/form/', import.meta.url);
const update = process.env.GOLDEN_UPDATE;

function barText(bar: ChartBar): string {
  const beat = beatTicks(bar.meter);
  const chords = bar.chords.map(({ chord, offset }) => {
    const symbol = chord?.symbol ?? 'N.C.';
    return offset === 0 ? symbol : `${symbol}@${offset / beat + 1}`;
  });
  const length = bar.chords.reduce((sum, chord) => sum + chord.length, 0);
  const isShort = length < barTicks(bar.meter);
  const meter = meterText(bar.meter) === '4/4' ? [] : [`(${meterText(bar.meter)})`];
  return [...chords, ...(isShort ? [`(${length / beat} of ${bar.meter.beats})`] : meter)].join(' ');
}

/** One line a chorus, then a line for every problem: severity, place, code. */
function playedText(text: string): string {
  const choruses = Number(/^# choruses: (\d+)/mu.exec(text)?.[1] ?? 1);
  const { chart, problems } = readChart(text);
  const played = unroll(chart, choruses);
  const lines = Array.from({ length: choruses }, (_, chorus) =>
    played.bars
      .filter((bar) => bar.chorus === chorus)
      .map((bar) => barText(chart.bars[bar.chartBar]!))
      .join(' | '),
  );
  const told = [...problems, ...played.problems].map(
    ({ severity, line, column, code }) => `${severity} ${line}:${column} ${code}`,
  );
  return `${[...lines, ...told].join('\n')}\n`;
}

describe('form cases', () => {
  for (const name of readdirSync(folder).sort()) {
    it(name, () => {
      const file = (part: string): URL => new URL(`${name}/${part}`, folder);
      const actual = playedText(readFileSync(file('chart.txt'), 'utf8'));
      if (update === name) writeFileSync(file('played.txt'), actual);
      const expected = existsSync(file('played.txt')) ? readFileSync(file('played.txt'), 'utf8') : '';
      if (actual === expected) rmSync(file('played.actual.txt'), { force: true });
      else writeFileSync(file('played.actual.txt'), actual);
      expect(actual).toBe(expected);
    });
  }
});
