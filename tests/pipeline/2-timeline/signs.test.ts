// The table of signs that people are shown says what the program does.
import { describe, expect, it } from 'vitest';
import table from '../../../shared/charts/signs.json' with { type: 'json' };
import { readChart } from '../../../src/pipeline/1-chart';
import { playedLines } from './played-text';

describe('the table of signs', () => {
  it.each(table.signs)('$sign is played as it says', ({ example, played }) => {
    const { chart, problems } = readChart(example);
    expect(problems).toEqual([]);
    expect(playedLines(chart, 1)).toEqual([played]);
  });

  it.each(table.heading)('$field is read', ({ field, example }) => {
    const { chart, problems } = readChart(`${example}\n[A] C7 |\n[B] F7 |`);
    expect(problems).toEqual([]);
    const { title, key, meter, tempo, feel, parts } = chart.header;
    const read = {
      Title: title,
      Key: key?.tonic,
      Meter: meter.beats,
      Tempo: tempo,
      Feel: feel,
      Form: parts.join(' '),
    };
    expect(example).toContain(String(read[field as keyof typeof read]));
  });

  it('has an example and a sentence for each', () => {
    for (const { meaning, example } of [...table.signs, ...table.heading]) {
      expect(meaning).toMatch(/\.$/u);
      expect(example).not.toBe('');
    }
  });
});
