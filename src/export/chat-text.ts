// A line to be sent in a message: a short line of text for every bar, readable in any type, without columns.
import { numberOfBar } from '../music';
import type { Line } from '../pipeline/5-line';
import type { Timeline } from '../pipeline/2-timeline';
import { headingLines, partHeading } from './heading';
import { opensPart } from './line-bars';
import { held, isDead, silent, tokensByBar } from './note-tokens';
import type { StringNames } from './position-marks';

/**
 * The line as "1 F7: F1 E.1, A1 A.0, C2 A.3, D2 D.0", bar by bar: the number of the bar, its chords, its notes as they
 * sound with string and finger. The last line tells the signs.
 */
export function toChat(timeline: Timeline, line: Line, names: StringNames): string {
  const rows = tokensByBar(timeline, line, names);
  const bars = timeline.bars.flatMap((bar, index) => {
    const heading = opensPart(timeline.bars, index)
      ? partHeading(bar, timeline.bars[index - 1], timeline.choruses)
      : null;
    const chords = bar.chords.map(({ chord }) => chord?.symbol ?? 'N.C.').join(' ');
    const text = `${numberOfBar(bar.index)} ${chords}: ${rows[index]!.tokens.join(', ')}`;
    return heading === null ? [text] : [`${heading}:`, text];
  });
  const said = rows.flatMap(({ tokens }) => tokens);
  const signs = [
    ...(said.includes(held) ? [`${held} held`] : []),
    ...(said.includes(silent) ? [`${silent} silent`] : []),
    ...(said.some((token) => token.startsWith('&')) ? ['& off the beat'] : []),
    ...(line.notes.some(isDead) ? ['() dead note'] : []),
  ];
  const legend = ['note string.finger', ...signs].join('; ');
  return [...headingLines(timeline), ...bars, `(${legend})`, ''].join('\n');
}
