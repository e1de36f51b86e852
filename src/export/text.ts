// A line as a table for the terminal: chords, notes with string and finger, positions, carries; then the hand report.
import { numberOfBar } from '../music';
import { beginsCarry, type Line } from '../pipeline/5-line';
import type { Timeline } from '../pipeline/2-timeline';
import { inColumns, wrapItems, type TextCell, type TextColumn } from './columns';
import { spansByBar } from './devices';
import { opensPart } from './line-bars';
import { headingLines, partHeading } from './heading';
import { held, isDead, silent, tokensByBar } from './note-tokens';
import { positionMarks, type StringNames } from './position-marks';
import { reportLines, type ReportOptions } from './report-text';

export type TextOptions = ReportOptions & StringNames;

const widest = 96;
const notesInLine = 4;
const noteGap = '  ';
const deviceIndent = ' '.repeat(5);

function tableLines(timeline: Timeline, line: Line, naming: TextOptions): string[] {
  const marks = positionMarks(line, naming);
  const devices = spansByBar(line.devices, line.notes);
  const rows: (readonly TextCell[] | string)[] = [];
  const tokenRows = tokensByBar(timeline, line, naming);
  const tokenWidth = tokenRows.reduce(
    (width, { tokens }) => Math.max(width, ...tokens.map((token) => token.length)),
    0,
  );
  for (const [index, bar] of timeline.bars.entries()) {
    const { notes, tokens } = tokenRows[index]!;
    const heading = opensPart(timeline.bars, index)
      ? partHeading(bar, timeline.bars[index - 1], timeline.choruses)
      : null;
    if (heading !== null) rows.push('', heading);
    rows.push([
      [String(numberOfBar(bar.index))],
      bar.chords.map(({ chord }) => chord?.symbol ?? 'N.C.'),
      tokens.map((token) => token.padEnd(tokenWidth)),
      notes.flatMap((note) => marks.get(note.index) ?? []),
      notes.flatMap(({ carry, index: place }) =>
        carry === null || !beginsCarry(line.notes, place)
          ? []
          : [`${naming.positionName(carry.from)}→${naming.positionName(carry.to)}`],
      ),
    ]);
    const own = devices.get(numberOfBar(bar.index)) ?? [];
    rows.push(...wrapItems(own, widest - deviceIndent.length, '; ').map((text) => deviceIndent + text));
  }
  const notesWidth = notesInLine * tokenWidth + (notesInLine - 1) * noteGap.length;
  const columns: readonly TextColumn[] = [
    { heading: 'Bar', widest: 4, gap: ' ' },
    { heading: 'Chords', widest: 14, gap: '  ' },
    { heading: 'Notes (string.finger)', widest: notesWidth, gap: noteGap },
    { heading: 'Position', widest: 12, gap: ', ' },
    { heading: 'Carries', widest: 14, gap: ', ' },
  ];
  return inColumns(columns, rows);
}

/**
 * The line as plain text, under 100 columns wide for ordinary chord symbols: a row for every bar, then the hand report.
 * Notes sound as named ("E1" is the open E string); a position is named where the hand takes it; a
 * carry names the stopped positions between which open strings took the hand. Under a bar stand its approaches and devices by
 * beat, with what the note that they lead to is in its chord.
 */
export function toText(timeline: Timeline, line: Line, options: TextOptions): string {
  return [
    ...headingLines(timeline),
    '',
    ...tableLines(timeline, line, options),
    '',
    `${held} held, ${silent} silent, & off the beat${line.notes.some(isDead) ? ', () dead note' : ''}`,
    '',
    ...reportLines(line.report, options, widest),
    '',
  ].join('\n');
}
