// Music glyphs as paths: a program that loads no fonts must still draw them.
import table from '../../shared/notation/music-outlines.json' with { type: 'json' };
import type { PlacedGlyph } from '../notation';
import { element } from './elements';
import { looks } from './looks';

const outlines: ReadonlyMap<string, string> = new Map(
  Object.entries(table.glyphs).map(([code, path]) => [String.fromCodePoint(Number.parseInt(code, 16)), path]),
);
/** The outlines are in thousandths of the font size. */
const unit = 1000;

/** As the screen rounds them. */
const hundredths = (value: number): number => Math.round(value * 100) / 100;

/** Glyphs at a font size in pixels. @throws RangeError for one that has no outline */
export const marks = (glyphs: readonly PlacedGlyph[], size: number): string =>
  glyphs
    .flatMap(({ text, x, y }) =>
      [...text].map((character) => {
        const d = outlines.get(character);
        if (d === undefined)
          throw new RangeError(`no outline of U+${character.codePointAt(0)!.toString(16)}`);
        const at = `translate(${hundredths(x)} ${hundredths(y)}) scale(${(size / unit).toFixed(5)})`;
        return element('path', { ...looks.music, transform: at, d });
      }),
    )
    .join('');
