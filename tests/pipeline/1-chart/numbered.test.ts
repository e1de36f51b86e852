// Numbers at the beginnings of lines: of a list, or of endings. Which it is, is common practice, no source.
import { describe, expect, it } from 'vitest';
import { readChart } from '../../../src/pipeline/1-chart';
import { playedLines } from '../2-timeline/played-text';

const played = (text: string): string => playedLines(readChart(text).chart, 1)[0] ?? '';
const said = (text: string): string[] => readChart(text).problems.map(({ code }) => code);

describe('lines numbered as a list', () => {
  it.each([
    ['with full stops', '1. C6 | A7 |\n2. Dm7 | G7 |\n3. C6 |', 'C6 | A7 | Dm7 | G7 | C6'],
    ['a bar a line', '1. C6 |\n2. A7 |\n3. Dm7 |\n4. G7 |', 'C6 | A7 | Dm7 | G7'],
    ['with brackets', '1) C6 | A7 |\n2) Dm7 | G7 |\n3) C6 |', 'C6 | A7 | Dm7 | G7 | C6'],
    ['with bare numbers', '1 C6 | A7\n2 Dm7 | G7\n3 C6 | C6', 'C6 | A7 | Dm7 | G7 | C6 | C6'],
    [
      'under a heading, with blank lines and sections',
      'Key: C\n\n[A]\n1. C6 | A7 |\n2. Dm7 | G7 |\n\n[B]\n3. Em7 | A7 |\n4. Dm7 | G7 |',
      'C6 | A7 | Dm7 | G7 | Em7 | A7 | Dm7 | G7',
    ],
    [
      'past nine',
      `${Array.from({ length: 12 }, (_, index) => `${index + 1}. C7 |`).join('\n')}`,
      Array(12).fill('C7').join(' | '),
    ],
  ])('%s', (_, text, bars) => {
    expect(played(text)).toBe(bars);
    expect(said(text)).toEqual(['numbers-taken']);
  });

  it('are told of at the first number, and leave every place where it is', () => {
    const { chart, problems } = readChart('Key: C\n 1. C6 |\n 2. Hm7 |\n 3. G7 |');
    expect(problems.map(({ code, line, column }) => [code, line, column])).toEqual([
      ['numbers-taken', 2, 2],
      ['chord-german-h', 3, 5],
    ]);
    expect(chart.bars).toHaveLength(3);
  });
});

describe('numbers that are none of a list', () => {
  it.each([
    ['two lines', '1. C6 | A7 |\n2. Dm7 | G7 |'],
    ['a line without a number', 'C6 | A7 |\n1. Dm7 | G7 |\n2. Dm7 | C6 |\n3. C6 |'],
    ['a number left out', '1. C6 | A7 |\n2. Dm7 | G7 |\n4. C6 |'],
    ['repeat signs', '1. C6 | A7 :|\n2. Dm7 | G7 :|\n3. C6 |'],
    ['a repeat before them', '|: C6 | A7 |\n1. Dm7 | G7 :|\n2. Dm7 | C6 :|\n3. C6 |'],
    ['brackets', '[1. C6 | A7 |\n[2. Dm7 | G7 |\n[3. C6 |'],
    ['endings behind bar lines', '1. C6 | A7 |1. Dm7 |\n2. Dm7 | G7 |\n3. C6 |'],
  ])('%s', (_, text) => {
    expect(said(text)).not.toContain('numbers-taken');
  });

  it('that count bars before the bar line are passed over as ever', () => {
    expect(played('1 | C6 | A7 |\n2 | Dm7 | G7 |\n3 | C6 |')).toBe('C6 | A7 | Dm7 | G7 | C6');
    expect(said('1 | C6 | A7 |\n2 | Dm7 | G7 |\n3 | C6 |')).toEqual([]);
  });

  it('of endings play every pass', () => {
    expect(played('|: C6 | A7 |\n1. Dm7 | G7 :|\n2. Em7 | G7 :|\n3. Dm7 | C6 |')).toBe(
      'C6 | A7 | Dm7 | G7 | C6 | A7 | Em7 | G7 | C6 | A7 | Dm7 | C6',
    );
  });
});
