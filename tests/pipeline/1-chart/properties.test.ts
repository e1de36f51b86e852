// Properties of reading and printing: anything can be thrown at the reader, and what it prints it reads again.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { barTicks, printChart, readChart, severities } from '../../../src/pipeline/1-chart';
import { plainChart } from './plain-chart';
import { chartText, nonsense, shortNonsense } from './random-charts';

const seed = 20251;

/** True of every reading, whatever the text. */
function expectSound(text: string): void {
  const { chart, problems } = readChart(text);
  const lines = text.split(/\r\n|[\n\r\v\f\u0085\u2028\u2029]/u);
  expect(problems.length).toBeLessThanOrEqual(101);
  for (const { line, column, length, message, severity } of problems) {
    expect(severities).toContain(severity);
    expect(message).not.toMatch(/\{\w+\}|undefined|^[a-z-]+$/u);
    expect(line).toBeGreaterThanOrEqual(1);
    expect(line).toBeLessThanOrEqual(lines.length);
    expect(column).toBeGreaterThanOrEqual(1);
    expect(length).toBeGreaterThanOrEqual(1);
    expect(column - 1 + length).toBeLessThanOrEqual(Math.max(lines[line - 1]!.length, 1));
  }
  for (const bar of chart.bars) {
    expect(bar.chords.length).toBeGreaterThan(0);
    let offset = 0;
    for (const chord of bar.chords) {
      expect(chord.offset).toBe(offset);
      expect(chord.length).toBeGreaterThan(0);
      offset += chord.length;
    }
    if (bar.pickup) expect(offset).toBeLessThan(barTicks(bar.meter));
    else expect(offset).toBe(barTicks(bar.meter));
  }
}

describe('reading a chart', () => {
  it('gives a sound chart and sound problems for sensible text', () => {
    fc.assert(fc.property(chartText, expectSound), { seed, numRuns: 400 });
  });

  it('gives a sound chart and sound problems for nonsense', () => {
    fc.assert(fc.property(nonsense, expectSound), { seed, numRuns: 1000 });
  });

  it('never fails on a hundred thousand texts', () => {
    const read = (text: string): boolean => readChart(text).problems.length <= 101;
    fc.assert(fc.property(shortNonsense, read), { seed, numRuns: 100_000 });
  }, 120_000);
});

describe('printing a chart', () => {
  const roundTrip = (text: string): void => {
    const { chart } = readChart(text);
    const printed = printChart(chart);
    const again = readChart(printed);
    expect(plainChart(again.chart)).toEqual(plainChart(chart));
    expect(printChart(again.chart)).toBe(printed);
  };

  it('gives text that reads as the same chart', () => {
    fc.assert(fc.property(chartText, roundTrip), { seed, numRuns: 800 });
  });

  it('gives text that reads as the same chart for what nonsense was read as', () => {
    fc.assert(fc.property(nonsense, roundTrip), { seed, numRuns: 1500 });
  });
});
