// Form cases as folders of readable text: chart.txt as somebody would type it, played.txt as it must be played.
// On a difference the actual text is written beside the expected one (played.actual.txt); set GOLDEN_UPDATE to the name
// of one case to take it over.
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readChart } from '../../../src/pipeline/1-chart';
import { unroll } from '../../../src/pipeline/2-timeline';
import { playedLines } from './played-text';

const folder = new URL('../../golden/form/', import.meta.url);
const update = process.env.GOLDEN_UPDATE;

/** One line a chorus, then a line for every problem: severity, place, code. */
function playedText(text: string): string {
  const choruses = Number(/^# choruses: (\d+)/mu.exec(text)?.[1] ?? 1);
  const { chart, problems } = readChart(text);
  const told = [...problems, ...unroll(chart, choruses).problems].map(
    ({ severity, line, column, code }) => `${severity} ${line}:${column} ${code}`,
  );
  return `${[...playedLines(chart, choruses), ...told].join('\n')}\n`;
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
