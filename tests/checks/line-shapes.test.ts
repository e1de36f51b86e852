// The shape of takes beside people's playing: how two steps follow each other, how often the line runs, and where it begins its
// chords. Counted in takes of every chart that the figures are fitted to, with seeds that no fit has seen.
//
// Bands: RWC Music Database (Goto et al.), seven walking pieces, and the Weimar Jazz Database, with what a strict reader lets
// pass on either side: our judgement. Counted twice: here, and by a counter of the brief that shares no code with this and lies
// beside the checkout; without the brief that half is skipped.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import fitCharts from '../../shared/weights/fit-charts.json' with { type: 'json' };
import { isBassNote } from '../../src/pipeline/5-line';
import { emptyCaches, walk, type LineNote } from '../../src/pipeline';
import { chartText, requestFor } from '../pipeline/request';

const seeds = Array.from({ length: 6 }, (_, index) => 3001 + index);
const texts = [
  ...fitCharts.fromCharts.map((id) => chartText(`${id}.txt`)),
  ...fitCharts.charts.map(({ text }) => text),
];
const takes: readonly (readonly LineNote[])[] = texts.flatMap((text) => {
  const caches = emptyCaches();
  const takeOf = (seed: number): readonly LineNote[] =>
    walk(requestFor(text, { take: { seed, temperature: 1 } }), undefined, caches).line!.notes;
  return seeds.map(takeOf);
});
const quarter = 480;
const lines = takes.map((notes) => notes.filter(({ ticks }) => ticks >= quarter));
const bars = lines.flat().length / 4;

const stepsOf = (notes: readonly LineNote[]): readonly number[] =>
  notes.slice(1).map(({ midi }, index) => midi - notes[index]!.midi);
const pairs = lines.flatMap((notes) => {
  const steps = stepsOf(notes);
  return steps.slice(1).map((second, index) => [steps[index]!, second] as const);
});

const kinds = {
  'half step': [1, 1],
  'whole step': [2, 2],
  third: [3, 4],
  'fourth or fifth': [5, 7],
  leap: [5, Infinity],
} as const;
type Kind = keyof typeof kinds;
const isOf = (kind: Kind, step: number): boolean => {
  const [least, most] = kinds[kind];
  return Math.abs(step) >= least && Math.abs(step) <= most;
};

/** How often one step is followed by another, of all pairs of steps. */
const followed = (first: Kind, second: Kind, way: 'on' | 'back'): number =>
  pairs.filter(([a, b]) => isOf(first, a) && isOf(second, b) && (way === 'on' ? a * b > 0 : a * b < 0))
    .length;

/** Steps one way that reach a length, each run counted once. */
function runs(length: number, isStep: (step: number) => boolean): number {
  let found = 0;
  for (const steps of lines.map(stepsOf)) {
    let run = 0;
    steps.forEach((step, index) => {
      const goesOn = run > 0 && step * steps[index - 1]! > 0;
      run = !isStep(step) ? 0 : goesOn ? run + 1 : 1;
      if (run === length) found += 1;
    });
  }
  return found;
}
const isSmall = (step: number): boolean => isOf('half step', step) || isOf('whole step', step);
const isHalf = (step: number): boolean => isOf('half step', step);

/** Of the new chords that open a bar, those begun on their bass. */
function begun(isBar: (bar: number) => boolean): number {
  const opening = lines.flatMap((notes) =>
    notes.filter(
      ({ bar, beat, harmony }, index) =>
        beat === 1 && isBar(bar - 1) && notes[index - 1]?.harmony.chord?.symbol !== harmony.chord?.symbol,
    ),
  );
  return opening.filter(({ harmony, midi }) => isBassNote(harmony, midi)).length / opening.length;
}

describe('takes over every chart that the figures are fitted to', () => {
  it('are of 1,500 bars and more', () => {
    expect(bars).toBeGreaterThan(1500);
  });

  it.each([
    ['half step', 'half step', 'on', 0.045, 0.075],
    ['half step', 'half step', 'back', 0, 0.018],
    ['whole step', 'whole step', 'on', 0.018, 0.05],
    ['whole step', 'half step', 'back', 0, 0.012],
    ['half step', 'whole step', 'back', 0, 0.015],
    ['fourth or fifth', 'fourth or fifth', 'back', 0.035, 0.06],
    ['third', 'third', 'on', 0.018, 0.04],
    ['third', 'third', 'back', 0.01, 0.022],
    ['half step', 'fourth or fifth', 'on', 0, 0.028],
  ] as const)('%s, then %s %s: %d to %d of all pairs', (first, second, way, least, most) => {
    const share = followed(first, second, way) / pairs.length;
    expect(share).toBeGreaterThanOrEqual(least);
    expect(share).toBeLessThanOrEqual(most);
  });

  it.each([
    ['runs of three steps', runs(3, isSmall), 0.1, 0.17],
    ['runs of five steps', runs(5, isSmall), 0.012, Infinity],
    ['chromatic runs of three', runs(3, isHalf), 0.03, Infinity],
    ['leaps that are leapt back', followed('leap', 'leap', 'back'), 0.33, 0.5],
  ])('%s: as often a bar as people', (_what, count, least, most) => {
    expect(count / bars).toBeGreaterThanOrEqual(least);
    expect(count / bars).toBeLessThanOrEqual(most);
  });

  it.each([
    ['the first of eight bars', (bar: number) => bar % 8 === 0, 0.8, 1],
    ['the first of four bars', (bar: number) => bar % 8 === 4, 0.8, 1],
    ['other bars', (bar: number) => bar % 4 !== 0, 0.6, 0.72],
  ])('chords new in %s begin on the root as often as people’s', (_what, isBar, least, most) => {
    const share = begun(isBar);
    expect(share).toBeGreaterThanOrEqual(least);
    expect(share).toBeLessThanOrEqual(most);
  });
});

const counter = resolve(import.meta.dirname, '../../../shared/checks/shape.mjs');

describe.skipIf(!existsSync(counter))('the independent counter of the brief', () => {
  it('finds pairs of steps within 0.04 bits of people’s', () => {
    const folder = mkdtempSync(join(tmpdir(), 'ramble-shapes-'));
    const file = join(folder, 'takes.jsonl');
    const rows = takes.map((notes) => ({
      notes: notes.map(({ bar, beat, ticks, midi, harmony }) => ({
        ...{ bar, beat, ticks, midi },
        chord: harmony.chord?.symbol ?? null,
      })),
    }));
    writeFileSync(file, rows.map((row) => JSON.stringify(row)).join('\n'));
    const { stdout, status } = spawnSync(process.execPath, [counter, file], { encoding: 'utf8' });
    rmSync(folder, { recursive: true });
    expect(status).toBe(0);
    const bits = Number(/^pairs of steps: bits from RWC\s+([\d.]+)/mu.exec(stdout)![1]);
    expect(bits).toBeLessThanOrEqual(0.04);
  });
});
