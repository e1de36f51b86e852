// Lines a band would accept: faults that a listener would wince at, counted over takes of every chart that walks in four.
//
// Counted twice: by the program's own critic, and by a counter that shares no code with it, which lies beside the checkout in
// the brief; without the brief that half is skipped. Bounds: our own, what a strict reader let pass.
import { existsSync } from 'node:fs';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import fitCharts from '../../shared/weights/fit-charts.json' with { type: 'json' };
import { countsOf } from '../../src/pipeline';
import { chartNames, chartText, walked, type Walked } from '../pipeline/request';

const takesEach = 2;

const takes: readonly Walked[] = [...chartNames.map(chartText), ...fitCharts.charts.map(({ text }) => text)]
  .flatMap((text) =>
    Array.from({ length: takesEach }, (_, index) =>
      walked(text, { take: { seed: 101 + index, temperature: 1 } }),
    ),
  )
  .filter(({ timeline }) => timeline.feel === 'swing' && timeline.bars[0]!.meter.beats === 4);

const bars = takes.reduce((sum, { timeline }) => sum + timeline.bars.length, 0);

describe('takes over every chart that walks in four', () => {
  it('are of 500 bars and more, on 12 charts and more', () => {
    expect(bars).toBeGreaterThanOrEqual(500);
    expect(takes.length / takesEach).toBeGreaterThanOrEqual(12);
  });

  it.each([
    ['left by leap', 8],
    ['outside left by leap', 1],
    ['chord begun elsewhere', 4],
    ['chord unspoken', 4],
    ['denied on a strong beat', 2],
    ['weak approach', 10],
    ['bar again', 0],
  ] as const)('"%s" comes at most %i times in 100 bars', (name, most) => {
    const count = takes.reduce(
      (sum, { line, timeline }) =>
        sum +
        countsOf(
          timeline.slots,
          line.notes.map(({ midi }) => midi),
        ).get(name)!,
      0,
    );
    expect((100 * count) / bars).toBeLessThanOrEqual(most);
  });

  it('leap no seventh and no ninth', () => {
    for (const { line } of takes) {
      line.notes.slice(1).forEach(({ midi }, index) => {
        const step = Math.abs(midi - line.notes[index]!.midi);
        expect([10, 11].includes(step) || step > 12).toBe(false);
      });
    }
  });

  it('begin on the root', () => {
    for (const { line } of takes)
      expect(['root', 'bass of the chord', 'fifth']).toContain(line.notes[0]!.role);
  });
});

interface Fault {
  readonly kind: string;
}
interface Counter {
  faultsOf(notes: readonly object[]): { readonly events: readonly Fault[]; readonly bars: number };
  score(result: { readonly events: readonly Fault[]; readonly bars: number }): number;
}

const counter = fileURLToPath(new URL('../../../shared/checks/faults.mjs', import.meta.url));

describe.skipIf(!existsSync(counter))('the independent counter of the brief', () => {
  it('finds a weighted score of at most 0.8 a bar', async () => {
    const { faultsOf, score } = (await import(/* @vite-ignore */ pathToFileURL(counter).href)) as Counter;
    const sum = takes.reduce((total, { line }) => {
      const notes = line.notes.map((note) => ({
        bar: note.bar,
        beat: note.beat,
        ticks: note.ticks,
        midi: note.midi,
        chord: note.harmony.chord?.symbol ?? null,
        finger: note.placement.finger,
      }));
      const result = faultsOf(notes);
      return total + score(result) * result.bars;
    }, 0);
    expect(sum / bars).toBeLessThanOrEqual(0.8);
  });
});
