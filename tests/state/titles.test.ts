import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readChart } from '../../src/pipeline';
import { demosOf } from '../../src/state/demos';
import { titleOf, withTitle } from '../../src/state/titles';

describe('titles', () => {
  it('are read from the title line', () => {
    expect(titleOf('Title: Back Stairs \n| F7 |')).toBe('Back Stairs');
    expect(titleOf('Key: F\n  title:One | Two\n')).toBe('One | Two');
    expect(titleOf('Title:\n| F7 |')).toBeNull();
    expect(titleOf('| F7 |')).toBeNull();
  });

  it('are written into the title line, or before a chart without one', () => {
    expect(withTitle('Key: F\nTitle: Old\n| F7 |', 'New')).toBe('Key: F\nTitle: New\n| F7 |');
    expect(withTitle('| F7 |', 'New\nline')).toBe('Title: New line\n| F7 |');
    expect(withTitle('Title: Old\n| F7 |', '$& $1')).toBe('Title: $& $1\n| F7 |');
  });
});

describe('demos', () => {
  const files = {
    '../b/waltz.txt': 'Title: A Waltz\nKey: G\n| G6 |',
    '../b/blues.txt': 'Title: Some Blues\nKey: F\n| F7 |',
    '../b/plain.txt': '| C |',
  };

  it('come in the order of the table, then by name, each with a title', () => {
    const rows = [
      { id: 'waltz', about: 'In three.', take: 3 },
      { id: 'missing', about: 'Not there.', take: 1 },
    ];
    expect(demosOf(files, rows).map(({ id, title, about, seed }) => [id, title, about, seed])).toEqual([
      ['waltz', 'A Waltz', 'In three.', 3],
      ['blues', 'Some Blues', '', 1],
      ['plain', 'plain', '', 1],
    ]);
  });

  it('are all in the table, begin with a blues in F and are read without a fault', () => {
    const folder = new URL('../../shared/charts/', import.meta.url);
    const names = readdirSync(folder).filter((name) => name.endsWith('.txt'));
    const demos = demosOf(
      Object.fromEntries(names.map((name) => [name, readFileSync(new URL(name, folder), 'utf8')])),
    );
    expect(demos).toHaveLength(names.length);
    expect(demos.every(({ about }) => about !== '')).toBe(true);
    const [first] = demos.map(({ text }) => readChart(text));
    expect(first?.chart.header.key).toMatchObject({ tonic: 'F', mode: 'major' });
    expect(first?.chart.bars).toHaveLength(12);
    for (const { id, text } of demos)
      expect({ id, problems: readChart(text).problems }).toEqual({ id, problems: [] });
  });
});
