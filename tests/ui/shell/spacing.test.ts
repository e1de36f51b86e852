// Room on the screen comes in seven sizes, by name: what differs by a pixel or two is an accident, not a design. Large lengths
// are layout, a pixel is a line, `em` goes with its text, and paper is set in points.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const files = readdirSync('src/ui', { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.(svelte|css)$/.test(name))
  .map((name) => join('src/ui', name));

/** Lengths of padding, margins and gaps in a style sheet that have no name, each with its declaration. */
function unnamedRoom(css: string): string[] {
  const declarations = css.matchAll(
    /(?<![\w-])(?:padding|margin|(?:row-|column-)?gap)[a-z-]*:([^;{}]*)[;}]/g,
  );
  return [...declarations].flatMap(([declaration, value]) =>
    [...value!.matchAll(/(?<![\w.])([0-9.]+)(rem|px)\b/g)].flatMap(([, size, unit]) => {
      const pixels = Number(size) * (unit === 'rem' ? 16 : 1);
      return pixels > 1 && pixels < 32 ? [declaration] : [];
    }),
  );
}

describe('room between things', () => {
  it('is told from layout, lines and text', () => {
    expect(unnamedRoom('a { padding: 0.6rem 0; gap: 3px }')).toHaveLength(2);
    expect(unnamedRoom('a { margin-inline: calc(-1 * 0.5rem) auto; }')).toHaveLength(1);
    expect(
      unnamedRoom('a { margin: -1px; padding: var(--space-m) 0.3em; gap: 3pt; margin-top: 21rem }'),
    ).toEqual([]);
  });

  it.each(files)('has a name in %s', (file) => {
    // What `calc` takes back is the width of a line.
    const css = readFileSync(file, 'utf8').replaceAll(/calc\(-\d+px - /g, 'calc(');
    expect(unnamedRoom(css)).toEqual([]);
  });
});
