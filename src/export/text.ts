// A line as a table for the terminal: chords, notes with string and finger, positions, carries; then the hand report.
import { pitchText, printKey, ticksPerQuarter, type Meter } from '../music';
import { meterText } from '../pipeline/1-chart';
import type { Line, LineNote } from '../pipeline/5-line';
import type { Timeline, TimelineBar } from '../pipeline/2-timeline';
import { layOut, wrapItems, type Cell, type Column } from './columns';
import { spansByBar } from './devices';
import { opensPart } from './line-bars';
import { rounded, stringNumeral } from './names';
import { positionMarks, type PositionNaming } from './position-marks';
import { reportLines } from './report-text';
import { feelText } from './swing-mark';

export type TextOptions = PositionNaming;

const widest = 96;
const notesInLine = 4;
const noteGap = '  ';
const held = '~';
const silent = '-';
const deviceIndent = ' '.repeat(5);

/** What counts as one beat in the numbering of the notes: a dotted quarter in compound meters, an eighth in other x/8. */
function beatLength({ beats, unit }: Meter): number {
  if (unit !== 8) return ticksPerQuarter;
  return beats % 3 === 0 && beats > 3 ? ticksPerQuarter * 1.5 : ticksPerQuarter / 2;
}

const isDead = (note: LineNote): boolean => note.slot.articulation === 'ghost';

function noteToken(note: LineNote): string {
  const { string, finger } = note.placement;
  const offBeat = Number.isInteger(note.beat) ? '' : '&';
  const token = `${pitchText(note.pitch)} ${stringNumeral(string)}.${finger}`;
  return offBeat + (isDead(note) ? `(${token})` : token);
}

/**
 * The notes of a bar beat by beat; "&" before a note off the beat, brackets round a dead one, "~" for a beat through
 * which a note goes on, "-" for a silent one.
 */
function noteTokens(bar: TimelineBar, notes: readonly LineNote[], soundsUntil: number): string[] {
  const beat = beatLength(bar.meter);
  const tokens: string[] = [];
  let sounding = soundsUntil;
  let next = 0;
  // Beats are counted from the bar's end, so that those of a pickup fall where they are felt.
  for (let at = bar.ticks % beat === 0 ? 0 : (bar.ticks % beat) - beat; at < bar.ticks; at += beat) {
    const tick = bar.tick + at;
    if (at >= 0 && notes[next]?.tick !== tick) tokens.push(sounding > tick ? held : silent);
    for (; next < notes.length && notes[next]!.tick < tick + beat; next += 1) {
      const note = notes[next]!;
      tokens.push(noteToken(note));
      sounding = note.tick + note.ticks;
    }
  }
  return tokens;
}

/** Notes by the index of their bar. */
function notesByBar(line: Line): ReadonlyMap<number, readonly LineNote[]> {
  const byBar = new Map<number, LineNote[]>();
  for (const note of line.notes) {
    const own = byBar.get(note.slot.bar);
    if (own) own.push(note);
    else byBar.set(note.slot.bar, [note]);
  }
  return byBar;
}

// A control character in a title could drive the terminal.
const printable = (text: string): string => text.replace(/[\p{Cc}\p{Cf}\p{Cs}]/gu, '').trim();

function partHeading(bar: TimelineBar, before: TimelineBar | undefined, choruses: number): string | null {
  const opensChorus = choruses > 1 && bar.chorus !== before?.chorus;
  const parts = [
    ...(opensChorus ? [`Chorus ${bar.chorus + 1}`] : []),
    ...(bar.section === null ? [] : [printable(bar.section)]),
  ];
  return parts.length === 0 ? null : parts.join(': ');
}

function tableLines(timeline: Timeline, line: Line, naming: PositionNaming): string[] {
  const byBar = notesByBar(line);
  const marks = positionMarks(line, naming);
  const devices = spansByBar(line.devices, line.notes);
  const rows: (readonly Cell[] | string)[] = [];
  let soundsUntil = 0;
  const tokenRows = timeline.bars.map((bar) => {
    const notes = byBar.get(bar.index) ?? [];
    const tokens = noteTokens(bar, notes, soundsUntil);
    const last = notes.at(-1);
    if (last) soundsUntil = last.tick + last.ticks;
    return { notes, tokens };
  });
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
      [String(bar.index + 1)],
      bar.chords.map(({ chord }) => chord?.symbol ?? 'N.C.'),
      tokens.map((token) => token.padEnd(tokenWidth)),
      notes.flatMap((note) => marks.get(note.index) ?? []),
      notes.flatMap(({ carry }) =>
        carry === null ? [] : [`${naming.positionName(carry.from)}→${naming.positionName(carry.to)}`],
      ),
    ]);
    const own = devices.get(bar.index + 1) ?? [];
    rows.push(...wrapItems(own, widest - deviceIndent.length, '; ').map((text) => deviceIndent + text));
  }
  const notesWidth = notesInLine * tokenWidth + (notesInLine - 1) * noteGap.length;
  const columns: readonly Column[] = [
    { heading: 'Bar', widest: 4, gap: ' ' },
    { heading: 'Chords', widest: 14, gap: '  ' },
    { heading: 'Notes (string.finger)', widest: notesWidth, gap: noteGap },
    { heading: 'Position', widest: 12, gap: ', ' },
    { heading: 'Carries', widest: 14, gap: ', ' },
  ];
  return layOut(columns, rows);
}

/**
 * The line as plain text, under 100 columns wide for ordinary chord symbols: a row for every bar, then the hand report.
 * Notes sound as named ("E1" is the open E string); string I is the highest; a position is named where the hand takes it; a
 * carry names the positions between which an open string took the hand. Under a bar stand its approaches and devices by
 * beat, with what the note that they lead to is in its chord.
 */
export function toText(timeline: Timeline, line: Line, options: TextOptions): string {
  const { title, key, tempo, feel, bars } = timeline;
  const facts = [
    printKey(key),
    meterText(bars[0]?.meter ?? { beats: 4, unit: 4 }),
    feelText(feel),
    `${rounded(tempo, 1)} bpm`,
    bars.length === 1 ? '1 bar' : `${bars.length} bars`,
  ];
  const heading = printable(title);
  return [
    ...(heading === '' ? [] : [heading]),
    facts.join(', '),
    '',
    ...tableLines(timeline, line, options),
    '',
    `${held} held, ${silent} silent, & off the beat${line.notes.some(isDead) ? ', () dead note' : ''}`,
    '',
    ...reportLines(line.report, options, widest),
    '',
  ].join('\n');
}
