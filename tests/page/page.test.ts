// The staff as one SVG picture: complete, self-contained, and readable by programs that know neither style sheets nor fonts.
import { SaxesParser } from 'saxes';
import { describe, expect, it } from 'vitest';
import { defaultInstrument } from '../../src/instrument';
import { toPrintable, toSvg } from '../../src/page';
import { makeLine, makeTimeline } from '../notation/made';
import { walked } from '../pipeline/request';

interface Found {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  text: string;
}

/** Elements in the order in which they open, each with the text below it. @throws Error where it is not XML */
function elementsOf(svg: string): readonly Found[] {
  const parser = new SaxesParser();
  const found: Found[] = [];
  const open: Found[] = [];
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', ({ name, attributes }) => {
    const one = { name, attributes: attributes as Record<string, string>, text: '' };
    found.push(one);
    open.push(one);
  });
  parser.on('text', (text) => {
    for (const one of open) one.text += text;
  });
  parser.on('closetag', () => {
    open.pop();
  });
  parser.write(svg).close();
  return found;
}

const options = { instrument: defaultInstrument, paper: 'A4', withDevices: false } as const;
const { timeline, line } = walked(
  'Title: Quiet Stairs\nKey: Bb\nTempo: 140\n\n| Bb6 | G7b9 | Cm7 F7 | Bb6/D |\n',
  {
    take: { seed: 3, temperature: 1 },
  },
);
const svg = toSvg(timeline, line, options);
const elements = elementsOf(svg);
const texts = elements.filter(({ name }) => name === 'text').map(({ text }) => text);
const bold = elements.filter(
  ({ name, attributes }) =>
    name === 'text' && attributes['text-anchor'] === 'middle' && attributes['font-weight'] === '700',
);

describe('a page as SVG', () => {
  it('says title, key, meter, feel, tempo and bass', () => {
    expect(texts).toEqual(
      expect.arrayContaining(['Quiet Stairs', 'B♭ · 4/4 · Swing', '= 140', defaultInstrument.name]),
    );
  });

  it('has every chord symbol, and a finger for every note in their order', () => {
    const symbols = texts.filter((text) => /^(B♭6|G7♭9|Cm7|F7|B♭6\/D)$/.test(text));
    expect(symbols).toEqual(['B♭6', 'G7♭9', 'Cm7', 'F7', 'B♭6/D']);
    expect(bold.map(({ text }) => text)).toEqual(line.notes.map(({ placement }) => placement.finger));
  });

  it('stands alone: no class, variable, script, entity or address outside', () => {
    const withoutFonts = svg.replace(/<style>[\s\S]*?<\/style>/, '');
    expect(withoutFonts).not.toMatch(/class=|var\(|<script|<!|url\(|<image|href=/);
    expect(svg.replace('http://www.w3.org/2000/svg', '')).not.toMatch(/https?:/);
    // The letters are in the file, each as data.
    expect([...svg.matchAll(/url\("([^"]{0,30})/g)].map(([, start]) => start)).toEqual(
      Array.from({ length: 4 }, () => 'data:font/woff2;base64,d09GMgA'.slice(0, 30)),
    );
  });

  it('draws music as paths: no sign of the private use area is left to a font', () => {
    expect(svg).not.toMatch(/[\ue000-\uf8ff]/);
    const glyphs = elements.filter(({ attributes }) => attributes.transform?.includes('scale('));
    // A clef, at least, a meter of two figures and a head for every note.
    expect(glyphs.length).toBeGreaterThanOrEqual(line.notes.length + 3);
  });

  it('is as wide as the paper and ends under its last line', () => {
    const [root] = elements;
    expect(root!.attributes.width).toBe('210mm');
    expect(elementsOf(toSvg(timeline, line, { ...options, paper: 'Letter' }))[0]!.attributes.width).toBe(
      '215.9mm',
    );
    const [, , , height] = root!.attributes.viewBox!.split(' ').map(Number);
    expect(Number.parseFloat(root!.attributes.height!)).toBeCloseTo((height! / 96) * 25.4, 1);
  });

  it('names devices where it is asked to', () => {
    const withNames = elementsOf(toSvg(timeline, line, { ...options, withDevices: true }));
    expect(line.devices.length).toBeGreaterThan(0);
    expect(withNames.length).toBeGreaterThan(elements.length);
  });

  it('takes any title for what it is', () => {
    const hostile = '</text><script>alert(1)</script>"&\u0000\ud800 <b>';
    const hard = elementsOf(toSvg({ ...timeline, title: hostile }, line, options));
    expect(hard.some(({ name }) => name === 'script')).toBe(false);
    expect(hard.some(({ text }) => text === '</text><script>alert(1)</script>"& <b>')).toBe(true);
    const long = elementsOf(toSvg({ ...timeline, title: 'Long '.repeat(60) }, line, options));
    const size = Number(
      long.find(({ text, name }) => name === 'text' && text.startsWith('Long'))!.attributes['font-size'],
    );
    expect(size).toBeLessThan(15);
    expect(toSvg({ ...timeline, title: ' ' }, line, options)).toContain('Untitled');
  });

  it('shows bars without a note as rests', () => {
    const bare = makeTimeline([{ chords: ['C'] }, { chords: ['-'] }]);
    const page = elementsOf(toSvg(bare, makeLine(bare, []), options));
    expect(page.some(({ text, name }) => name === 'text' && text === 'N.C.')).toBe(true);
  });
});

describe('a page to be printed', () => {
  it('is the same marks in pieces that are not torn, on the paper asked for', () => {
    const html = toPrintable(timeline, line, { ...options, paper: 'Letter' });
    expect(html).toContain('size: Letter;');
    expect(html).toContain('break-inside: avoid');
    const drawn = (page: string): number => page.match(/<(path|text)\b/g)!.length;
    expect(drawn(html)).toBe(drawn(toSvg(timeline, line, { ...options, paper: 'Letter' })));
  });
});
