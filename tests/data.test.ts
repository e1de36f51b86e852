// The data by itself: everything in shared/ says where it is from, and is as regular as the code expects.
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const shared = fileURLToPath(new URL('../shared/', import.meta.url));
const files = readdirSync(shared, { withFileTypes: true, recursive: true })
  .filter((entry) => entry.isFile())
  .map((entry) => `${entry.parentPath}/${entry.name}`.slice(shared.length).replace(/^\//, ''));

/** Folders of words and of our own charts, which come from nowhere but here. */
const ownWork = /^(words|charts)\//;

const text = (name: string): string => readFileSync(`${shared}/${name}`, 'utf8');

interface Rows {
  readonly rows: readonly Record<string, unknown>[];
}

describe('shared data', () => {
  it('is there', () => {
    expect(files.length).toBeGreaterThan(20);
  });

  it.each(files.filter((name) => !ownWork.test(name)))('%s names its sources', (name) => {
    expect(text(name)).toMatch(
      /source|Source|common practice|assumption|computed|equal temperament|ISO 9241/,
    );
  });

  it.each(files.filter((name) => name.endsWith('.json')))('%s is JSON', (name) => {
    expect(() => JSON.parse(text(name)) as unknown).not.toThrow();
  });
});

describe('positions', () => {
  const { rows } = JSON.parse(text('hand/positions.json')) as Rows;

  it('go up by semitones from half to the octave, each name once', () => {
    expect(rows.map((row) => row.semitone)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
    expect(new Set(rows.map((row) => row.name)).size).toBe(rows.length);
  });
});

describe('instruments', () => {
  const { rows } = JSON.parse(text('instruments/instruments.json')) as Rows;

  it.each(rows)('$id has strings from high to low, a plausible length and a source', (row) => {
    const strings = row.strings as number[];
    expect([...strings].sort((a, b) => b - a)).toEqual(strings);
    expect(row.length).toBeGreaterThanOrEqual(800);
    expect(row.length).toBeLessThanOrEqual(1200);
    expect(row.source).toMatch(/\S/);
  });

  it('have ids of their own', () => {
    expect(new Set(rows.map((row) => row.id)).size).toBe(rows.length);
  });
});

describe('weights of the music', () => {
  const weights = JSON.parse(text('weights/music.json')) as {
    degree: Record<string, Record<string, number>>;
    intervalInBar: number[];
    intervalBarLine: number[];
  };

  it('cover every context, class and interval', () => {
    expect(Object.keys(weights.degree)).toEqual(expect.arrayContaining(['change', 'b1', 'b2', 'b3', 'b4']));
    for (const classes of Object.values(weights.degree)) {
      expect(Object.keys(classes).sort()).toEqual(['chrom', 'fifth', 'root', 'scale', 'seventh', 'third']);
    }
    expect(weights.intervalInBar).toHaveLength(14);
    expect(weights.intervalBarLine).toHaveLength(14);
  });

  it('say what every teacher says: the root is the cheapest note on a new chord, a stranger the dearest', () => {
    const { change } = weights.degree;
    const energies = Object.values(change!);
    expect(change!.root).toBe(Math.min(...energies));
    expect(change!.chrom).toBe(Math.max(...energies));
  });
});
