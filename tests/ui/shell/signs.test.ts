import { describe, expect, it } from 'vitest';
import { readChart } from '../../../src/pipeline';
import { signRows } from '../../../src/ui/changes/signs';

/** A whole chart around one sign of the list. */
function chartWith(sign: string): string {
  if (/^[A-Z][a-z]+:/.test(sign)) return `${sign}\n[A] | F7 | Bb7 |\n[B] | C7 | F7 |\n`;
  if (sign.startsWith('|1')) return `|: F7 ${sign}\n`;
  if (sign.startsWith('[')) return `${sign} | F7 | Bb7 |\n`;
  if (sign.startsWith('D.C.')) return `| F7 Fine | Bb7 ${sign} |\n`;
  return `| G7 |\n${sign}\n`;
}

describe('the list of signs', () => {
  it.each(signRows.map(([sign]) => sign))('"%s" is read by the chart reader', (sign) => {
    const { chart, problems } = readChart(chartWith(sign));
    expect(problems.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(chart.bars.length).toBeGreaterThan(0);
  });
});
