import { describe, expect, it } from 'vitest';
import { readFileSync, readdirSync } from 'node:fs';
import { soundSources } from '../../../src/ui/about/sound-sources';

const shared = new URL('../../../shared/', import.meta.url);
/** Every file of figures that a sound depends on. */
const files = [
  ...readdirSync(new URL('sound/', shared)).map((file) => `sound/${file}`),
  ...['lean', 'swing', 'patterns', 'samples', 'mix', 'touch'].map((name) => `rhythm/${name}.json`),
  'band/common.json',
];

describe('the sources of the computed sounds', () => {
  const told = soundSources();

  it('name every source in the data, and the licence of the recordings', () => {
    expect(files.length).toBeGreaterThanOrEqual(11);
    for (const file of files) {
      const text = readFileSync(new URL(file, shared), 'utf8');
      for (const [, source] of text.matchAll(/"source": ("(?:[^"\\]|\\.)*")/g))
        expect(told, file).toContain(JSON.parse(source!));
    }
    expect(told).toContain('CC0');
    expect(told).toContain('MIT licence');
  });

  it('claim no ear that nobody lent', () => {
    expect(told).not.toMatch(/by ear/);
  });

  it('say measured of the electric bass nowhere but to deny it', () => {
    const electric = told.slice(told.indexOf('Electric bass'), told.indexOf('Ways to touch'));
    expect(electric.replace(/no recording was measured/g, '')).not.toContain('measured');
  });
});
