// The page of the chart text: its examples are played as it says, and its tables are the data that program and screen use.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import scales from '../shared/chords/scales.json' with { type: 'json' };
import chart from '../shared/words/chart-problems.json' with { type: 'json' };
import chord from '../shared/words/chord-problems.json' with { type: 'json' };
import imported from '../shared/words/import-problems.json' with { type: 'json' };
import midi from '../shared/words/midi-problems.json' with { type: 'json' };
import { readChart } from '../src/pipeline';
import { signRows } from '../src/ui/changes/signs';
import { playedLines } from './pipeline/2-timeline/played-text';

const page = readFileSync(new URL('../shared/charts/CHART-TEXT.md', import.meta.url), 'utf8');
const between = (name: string): string =>
  page.slice(page.indexOf(`<!-- ${name} -->`), page.indexOf(`<!-- /${name} -->`)).trim();

describe('examples', () => {
  const blocks = [...page.matchAll(/^```(chart|played|said)\n([\s\S]*?)^```$/gm)].map(([, kind, body]) => ({
    kind,
    body,
  }));
  const pairs = blocks.flatMap((block, index) =>
    block.kind === 'chart' ? [[block.body!, blocks[index + 1], blocks[index + 2]] as const] : [],
  );

  it('are there, each with what is played', () => {
    expect(pairs.length).toBeGreaterThan(12);
    for (const [, after] of pairs) expect(after?.kind).toBe('played');
  });
  it.each(pairs)('%s', (text, after, said) => {
    const reading = readChart(text);
    const codes = said?.kind === 'said' ? said.body!.trim().split('\n') : [];
    expect(reading.problems.map(({ code }) => code)).toEqual(codes);
    expect(playedLines(reading.chart, 1).join('\n')).toBe(after!.body!.trim());
  });
});

describe('tables', () => {
  it('list every sentence that can be said about a chart', () => {
    const rows = [chart, chord, imported, midi].flatMap((catalogue) =>
      Object.entries<{ severity: string; message: string }>(catalogue).map(
        ([code, { severity, message }]) => `| ${code} | ${severity} | ${message} |`,
      ),
    );
    expect(between('problems').split('\n').slice(4)).toEqual(rows);
  });
  it('list every scale', () => {
    const rows = scales.rows.map(({ name, also }) => `| ${name} | ${also.join(', ')} |`);
    expect(between('scales').split('\n').slice(4)).toEqual(rows);
  });
  it('leave out no sign that the screen explains', () => {
    const signs = [
      '%',
      'N.C.',
      '|:',
      ':|',
      'D.C.',
      'D.S.',
      'segno',
      'To Coda',
      'coda',
      'Fine',
      'Form:',
      'Feel:',
      'Title:',
    ];
    for (const sign of signs) {
      expect(
        signRows.some(([shown, meaning]) => `${shown} ${meaning}`.includes(sign.replace(':', ''))),
        sign,
      ).toBe(true);
      expect(page, sign).toContain(sign);
    }
  });
});
