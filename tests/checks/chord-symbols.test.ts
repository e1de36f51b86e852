// Spellings as jazz musicians write them against the intervals they stand for (common practice, no source).
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it, test } from 'vitest';
import { parseChord, type Chord, type ChordReading } from '../../src/music';
import { readTable } from '../table';

const words = (text: string | undefined): string[] => (text ?? '').split(' ').filter((word) => word !== '');

/** The required intervals are there, and nothing beyond them and the permitted ones. */
function expectTones(chord: Chord, required: readonly string[], permitted: readonly string[]): void {
  const tones = chord.tones.map((tone) => tone.interval);
  const colours = chord.colours.map((tone) => tone.interval);
  expect(tones, chord.typed).toEqual(expect.arrayContaining([...required]));
  expect([...required, ...permitted], chord.typed).toEqual(expect.arrayContaining([...tones, ...colours]));
}

const codes = (reading: ChordReading): string[] =>
  reading.kind === 'refused'
    ? [reading.code]
    : reading.kind === 'chord'
      ? reading.remarks.map(({ code }) => code)
      : [];

describe('our table of spellings', () => {
  const table = readTable('checks/chords.tsv');
  const rows = table.rows.map((row) => ({
    symbol: row.at('symbol'),
    reading: row.at('reading'),
    root: row.at('root'),
    required: words(row.at('required')),
    permitted: words(row.at('permitted')),
    bass: row.at('bass'),
    remark: words(row.at('remark')),
    source: row.at('source'),
  }));

  it('is large, has each spelling once and a source in every row', () => {
    expect(rows.length).toBeGreaterThan(600);
    expect(new Set(rows.map((row) => row.symbol)).size).toBe(rows.length);
    expect(rows.filter((row) => row.source === '')).toEqual([]);
    table.expectAllRead();
  });

  test.each(rows)('$symbol', ({ symbol, reading: kind, root, required, permitted, bass, remark }) => {
    const reading = parseChord(symbol);
    expect(reading.kind).toBe(kind);
    expect(codes(reading)).toEqual(remark);
    if (reading.kind === 'bass only') expect(reading.bass).toBe(bass);
    if (reading.kind !== 'chord') return;
    expect(reading.chord.root).toBe(root);
    expect(reading.chord.bass ?? '').toBe(bass);
    expectTones(reading.chord, required, permitted);
  });
});

const published = new URL('../../../shared/facts/chord-symbols.tsv', import.meta.url);
describe.runIf(existsSync(published))('the table beside the project', () => {
  const lines = existsSync(published) ? readFileSync(published, 'utf8').split('\n').slice(1) : [];
  const rows = lines.flatMap((line) => {
    const [symbol = '', expected = '', tier = ''] = line.split('\t');
    return expected === '' ? [] : [{ symbol, expected, tier }];
  });

  test.each(rows)('"$symbol" ($tier)', ({ symbol, expected }) => {
    const reading = parseChord(symbol);
    if (expected.startsWith('not a chord')) {
      expect(reading.kind).not.toBe('chord');
      return;
    }
    const [, name, required, permitted, bass] =
      /^(\S+): ([^(/]*)(?:\(([^)]*)\))? *(?:\/ bass (\S+))?$/.exec(expected) ?? [];
    if (reading.kind !== 'chord') throw new Error(`${symbol} was not read`);
    expect(reading.chord.root).toBe(name);
    expect(reading.chord.bass ?? undefined).toBe(bass);
    expectTones(reading.chord, words(required), words(permitted));
  });
});

if (!existsSync(published)) {
  test.skip('the table beside the project: ../shared/facts/chord-symbols.tsv is not here', () => undefined);
}
