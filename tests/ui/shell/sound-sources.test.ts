import { describe, expect, it } from 'vitest';
import { readFileSync, readdirSync } from 'node:fs';
import { soundSources } from '../../../src/ui/about/sound-sources';

const folder = new URL('../../../shared/sound/', import.meta.url);

describe('the sources of the computed sounds', () => {
  const told = soundSources();

  it('name every source in the data, and the licence of the recordings', () => {
    const files = readdirSync(folder);
    expect(files.length).toBeGreaterThanOrEqual(4);
    for (const file of files) {
      const text = readFileSync(new URL(file, folder), 'utf8');
      for (const [, source] of text.matchAll(/"source": ("(?:[^"\\]|\\.)*")/g))
        expect(told, file).toContain(JSON.parse(source!));
    }
    expect(told).toContain('CC0');
  });

  it('say measured of the electric bass nowhere but to deny it', () => {
    const electric = told.slice(told.indexOf('Electric bass'), told.indexOf('Ways to touch'));
    expect(electric.replace(/no recording was measured/g, '')).not.toContain('measured');
  });
});
