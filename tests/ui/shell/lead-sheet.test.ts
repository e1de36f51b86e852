import { describe, expect, it } from 'vitest';
import type { ChartBar } from '../../../src/pipeline';
import { sheetLines } from '../../../src/ui/changes/sheet';
import { plainBar } from '../../pipeline/plain-bar';

const bar = (change: Partial<ChartBar> = {}): ChartBar => ({
  chords: [],
  meter: { beats: 4, unit: 4 },
  ...plainBar,
  ...change,
});
const bars = (count: number): ChartBar[] => Array.from({ length: count }, () => bar());

describe('the lead sheet', () => {
  it('sets four bars a line', () => {
    expect(sheetLines(bars(10)).map((line) => line.bars.length)).toEqual([4, 4, 2]);
    expect(sheetLines([])).toEqual([]);
  });

  it('begins a line with every section', () => {
    const lines = sheetLines([bar({ section: 'A' }), ...bars(2), bar({ section: 'B' }), ...bars(4)]);
    expect(lines.map(({ section, bars: inLine }) => [section, inLine.length])).toEqual([
      ['A', 3],
      ['B', 4],
      [null, 1],
    ]);
  });

  it('does not count a pickup', () => {
    expect(sheetLines([bar({ pickup: true }), ...bars(4)]).map((line) => line.bars.length)).toEqual([5]);
  });

  it('opens and closes the brackets of endings', () => {
    const [line] = sheetLines([
      bar(),
      bar({ ending: [1, 3], repeatEnd: 4 }),
      bar({ ending: [2] }),
      bar({ ending: [2] }),
    ]);
    expect(line?.bars.map(({ endingStart, endingStop }) => [endingStart, endingStop])).toEqual([
      [null, false],
      ['1. 3.', true],
      ['2.', false],
      [null, true],
    ]);
  });

  it('marks a new meter', () => {
    const waltz = { beats: 3, unit: 4 } as const;
    const [line] = sheetLines([bar(), bar({ meter: waltz }), bar({ meter: waltz })]);
    expect(line?.bars.map(({ meterChange }) => meterChange)).toEqual([false, true, false]);
  });
});
