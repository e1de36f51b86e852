// A line on a page: the staff as the screen and the printer have it, as one SVG picture or as HTML to be printed.
import { shortPositionName, type Instrument } from '../instrument';
import { layoutStaff } from '../notation';
import type { Timeline } from '../pipeline/2-timeline';
import type { Line } from '../pipeline/5-line';
import { headBlock, signsBlock, type PageBlock } from './around';
import { element, escaped } from './elements';
import { fontFaces } from './fonts';
import { systemMarks } from './system';

export const pagePapers = ['A4', 'Letter'] as const;
export type PagePaper = (typeof pagePapers)[number];

export interface PageOptions {
  readonly instrument: Instrument;
  readonly paper: PagePaper;
  /** Brackets and names approaches and devices under the staff. */
  readonly withDevices: boolean;
}

/** CSS pixels of 1/96 inch in a millimetre. */
const pixelsPerMm = 96 / 25.4;
const widthInMm: Readonly<Record<PagePaper, number>> = { A4: 210, Letter: 215.9 };
/** As the printed page has it. */
const margin = 14 * pixelsPerMm;
const betweenSystems = 9;

function blocksOf(
  timeline: Timeline,
  line: Line,
  options: PageOptions,
): { blocks: PageBlock[]; width: number } {
  const room = Math.floor(widthInMm[options.paper] * pixelsPerMm - 2 * margin);
  const { systems, space, sizes } = layoutStaff(timeline, line, {
    width: room,
    instrument: options.instrument,
    positionNumeral: shortPositionName,
    showRoles: false,
    showDevices: options.withDevices,
  });
  const music = systems.map((system) => ({
    height: system.height + betweenSystems,
    // A system that cannot be made narrow enough is drawn smaller rather than cut off.
    content: element(
      'g',
      { transform: system.width > room ? `scale(${(room / system.width).toFixed(4)})` : undefined },
      systemMarks(system, space, sizes),
    ),
  }));
  return { blocks: [headBlock(timeline, options.instrument, room), ...music, signsBlock(room)], width: room };
}

const titleOf = ({ title }: Timeline): string => element('title', {}, escaped(title.trim()) || 'Ramble');

/** One picture as wide as the paper and as long as the line. */
export function toSvg(timeline: Timeline, line: Line, options: PageOptions): string {
  const { blocks } = blocksOf(timeline, line, options);
  const width = widthInMm[options.paper] * pixelsPerMm;
  const placed: string[] = [];
  let y = margin;
  for (const { height, content } of blocks) {
    placed.push(element('g', { transform: `translate(${margin.toFixed(2)} ${y.toFixed(2)})` }, content));
    y += height;
  }
  const height = y + margin;
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      width: `${widthInMm[options.paper]}mm`,
      height: `${(height / pixelsPerMm).toFixed(2)}mm`,
      viewBox: `0 0 ${width.toFixed(2)} ${height.toFixed(2)}`,
      role: 'img',
    },
    [
      titleOf(timeline),
      element('style', {}, fontFaces),
      element('rect', { width: '100%', height: '100%', fill: '#fff' }),
      ...placed,
    ].join('\n'),
  );
}

/** The same in pieces that a browser lays on pages, none of them torn. */
export function toPrintable(timeline: Timeline, line: Line, options: PageOptions): string {
  const { blocks, width } = blocksOf(timeline, line, options);
  const pieces = blocks.map(({ height, content }) => {
    const tall = height.toFixed(2);
    return element(
      'div',
      {},
      element('svg', { width, height: tall, viewBox: `0 0 ${width} ${tall}` }, content),
    );
  });
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8">${titleOf(timeline)}<style>
${fontFaces}
@page { size: ${options.paper}; margin: 14mm; @bottom-center { content: counter(page); font: 9pt "Alegreya Sans", sans-serif; } }
body { margin: 0 }
div { break-inside: avoid }
div:first-child { break-after: avoid }
svg { display: block; overflow: visible }
</style></head><body>
${pieces.join('\n')}
</body></html>
`;
}
