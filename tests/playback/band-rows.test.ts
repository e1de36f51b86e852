// The rows of the bands by themselves: whole phrases, places inside the bar, sounds on the lane they belong to.
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { feels } from '../../src/pipeline/1-chart';
import { bandOf, drawn, lanes, weightOf, type BandRows, type Hits } from '../../src/playback/band/rows';
import { amounts } from '../../src/playback';

const all: readonly (readonly [string, BandRows])[] = [
  ...feels.map((feel) => [feel, bandOf(feel, 4)] as const),
  ['eighths', bandOf('swing', 8)],
];
const beatsOf = (hits: Hits): number[] => hits.flatMap(([, ...pairs]) => pairs.map(([beat]) => beat));
const soundsOf = (hits: Hits): string[] => hits.map(([sound]) => sound);
const laneSounds: Readonly<Record<(typeof lanes)[number], RegExp>> = {
  cymbal: /^(ride|ride bell|crash)$/,
  'hi-hat': / hat$/,
  drums: /^(snare|kick|side stick|brush tap|brush sweep|tom high|tom low)$/,
  under: /^brush stir$/,
};

describe('the bands', () => {
  it('are a file for every feel and one for meters in eighths, every row with its source', () => {
    const folder = fileURLToPath(new URL('../../shared/band/', import.meta.url));
    const files = readdirSync(folder).sort();
    expect(files).toEqual(['common', 'eighths', ...feels].map((name) => `${name}.json`).sort());
    for (const file of files.filter((name) => name !== 'common.json')) {
      const rows = readFileSync(folder + file, 'utf8')
        .split('\n')
        .filter((line) => /^\s+\{"/.test(line));
      expect(rows.length, file).toBeGreaterThan(20);
      for (const row of rows) expect(row, file).toMatch(/"source": "[^"]{10,}"/);
    }
  });

  it('are each their own', () => {
    const rows = all.map(([, band]) => JSON.stringify(band.lanes));
    expect(new Set(rows).size).toBe(all.length);
    const comping = all.map(([, band]) => JSON.stringify(band.comping));
    expect(new Set(comping).size).toBe(all.length);
  });
});

describe.each(all)('%s', (_, band) => {
  const repertoires = [
    ...lanes.flatMap((lane) => (band.lanes[lane] ? [band.lanes[lane]] : [])),
    band.comping,
  ];

  it('has phrases of four and eight bars of cells that there are, every cell in one of them', () => {
    for (const { cells, phrases } of repertoires) {
      const names = cells.map(({ name }) => name);
      expect(new Set(names).size).toBe(names.length);
      for (const { bars } of phrases) {
        expect([4, 8]).toContain(bars.length);
        for (const name of bars) expect(names).toContain(name);
      }
      for (const name of names) expect(phrases.flatMap(({ bars }) => bars)).toContain(name);
    }
  });

  it.each(amounts)('can be drawn where it is to play %s', (amount) => {
    const lists = [...repertoires.map(({ phrases }) => phrases), band.leadIns, band.endings];
    for (const rows of lists) {
      expect(rows.reduce((sum, row) => sum + weightOf(row, amount), 0)).toBeGreaterThan(0);
      const found = [0, 0.5, 0.999].map((chance) => drawn<(typeof rows)[number]>(rows, amount, () => chance));
      for (const row of found) expect(row && weightOf(row, amount)).toBeGreaterThan(0);
    }
  });

  it('keeps its hits inside the bar and on their lanes', () => {
    for (const lane of lanes)
      for (const { hits, second = [], in2 = [] } of band.lanes[lane]?.cells ?? []) {
        for (const sound of soundsOf([...hits, ...second, ...in2])) expect(sound).toMatch(laneSounds[lane]);
        for (const beat of beatsOf([...hits, ...second])) {
          expect(beat).toBeGreaterThanOrEqual(1);
          expect(beat).toBeLessThan(band.beats + 1);
        }
        for (const beat of beatsOf(in2)) expect(beat).toBeLessThan(3);
      }
    for (const { strokes } of band.comping.cells)
      for (const [beat] of strokes) {
        expect(beat).toBeGreaterThanOrEqual(1);
        expect(beat).toBeLessThan(band.beats + 1);
      }
  });

  it('leads in before the end of a bar and lands on the first beat', () => {
    for (const { hits, landing = [] } of band.leadIns) {
      expect(hits.length).toBeGreaterThan(0);
      for (const beat of beatsOf(hits)) expect(beat).toBeLessThan(0);
      for (const beat of beatsOf(landing)) expect(beat).toBe(0);
    }
    for (const { hits, tag, choke } of band.endings) {
      expect(beatsOf(hits)).toContain(1);
      expect(choke).toBeGreaterThan(0);
      expect(choke).toBeLessThan(band.beats);
      for (const beat of beatsOf(tag?.hits ?? [])) expect(beat).toBeLessThan(0);
    }
  });
});
