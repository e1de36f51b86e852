// What stands over the music and under it: title, facts and what the signs mean.
import words from '../../shared/words/page.json' with { type: 'json' };
import { bpm, type Key } from '../music';
import type { Instrument } from '../instrument';
import { feelText } from '../pipeline/1-chart';
import type { Timeline } from '../pipeline/2-timeline';
import { glyph, textWidth, typesetName } from '../notation';
import { element, escaped } from './elements';
import { looks } from './looks';
import { marks } from './marks';

/** A piece of the page that is not torn apart, `width` as wide as the text of the page. */
export interface PageBlock {
  readonly height: number;
  readonly content: string;
}

const sizes = { title: 29, facts: 14, small: 11.5 } as const;
const apart = 24;
/** Lines are broken for letters a quarter wider than ours: a program may not load the file's own. */
const spare = 0.8;

const keyText = (key: Key): string =>
  typesetName(key.tonic) + (key.church ? ` ${key.church}` : key.mode === 'minor' ? ' minor' : '');

/** A black note and a figure, as a tempo is given over a staff; the note as paths, since few fonts have it. */
function tempoMark(
  tempo: number,
  x: number,
  y: number,
): { readonly content: string; readonly width: number } {
  const space = sizes.facts / 3;
  const head = glyph('noteheadBlack');
  const stemX = x + head.right * space - 0.5;
  const note = marks([{ text: head.text, x, y: y - space / 2 }], space * 4);
  const stem = element('path', {
    ...looks.stem,
    'stroke-width': '1',
    d: `M${stemX} ${y - space / 2}V${y - space * 3.2}`,
  });
  const text = `= ${Math.round(tempo)}`;
  const textX = x + head.advance * space + 4;
  const figure = element('text', { ...looks.facts, x: textX, y, 'font-size': sizes.facts }, text);
  return { content: note + stem + figure, width: textX - x + textWidth(text, sizes.facts, 'sans') };
}

/** Title, key, meter, feel, tempo and bass over a rule. A title that is too long for its line is set smaller. */
export function headBlock(timeline: Timeline, instrument: Instrument, width: number): PageBlock {
  const title = timeline.title.trim() === '' ? words.untitled : timeline.title.trim();
  const wide = textWidth(title, sizes.title, 'serif');
  const size = Math.max(sizes.title / 3, Math.min(sizes.title, (sizes.title * width) / wide));
  const meter = timeline.bars[0]?.meter ?? { beats: 4, unit: 4 };
  const facts = `${keyText(timeline.key)} · ${meter.beats}/${meter.unit} · ${feelText(timeline.feel)}`;
  const y = sizes.title + sizes.facts * 1.4;
  const tempo = tempoMark(bpm(timeline.tempo), textWidth(facts, sizes.facts, 'sans') + apart, y);
  const ruleY = y + 8;
  return {
    height: ruleY + 18,
    content: [
      element('text', { ...looks.title, x: 0, y: sizes.title * 0.85, 'font-size': size }, escaped(title)),
      element('text', { ...looks.facts, x: 0, y, 'font-size': sizes.facts }, escaped(facts)),
      tempo.content,
      element(
        'text',
        { ...looks.facts, x: width, y, 'font-size': sizes.facts, 'text-anchor': 'end' },
        escaped(instrument.name),
      ),
      element('path', { ...looks.rule, d: `M0 ${ruleY}H${width}` }),
    ].join(''),
  };
}

/** Words on lines that are no wider than the width. */
function inLines(text: string, size: number, width: number): readonly string[] {
  return text.split(' ').reduce<string[]>((lines, word) => {
    const joined = lines.length === 0 ? word : `${lines.at(-1)} ${word}`;
    return textWidth(joined, size, 'sans') <= width ? [...lines.slice(0, -1), joined] : [...lines, word];
  }, []);
}

export function signsBlock(width: number): PageBlock {
  const lines = inLines(words.signs, sizes.small, width * spare);
  const leading = sizes.small * 1.3;
  return {
    height: 8 + lines.length * leading + 4,
    content: [
      element('path', { ...looks.rule, stroke: '#999', d: `M0 4H${width}` }),
      ...lines.map((line, at) =>
        element(
          'text',
          { ...looks.small, x: 0, y: 8 + (at + 0.85) * leading, 'font-size': sizes.small },
          escaped(line),
        ),
      ),
    ].join(''),
  };
}
