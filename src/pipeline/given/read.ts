// A given line in any of the forms it comes in: note names, a MIDI file, the bass part of MusicXML, a voice of ABC.
import { ticks, type Bpm } from '../../music';
import {
  decodeText,
  importFile,
  importProblem,
  isRefused,
  type ImportReading,
  type Problem,
} from '../1-chart';
import { readMidiLine } from './midi';
import { isMidi } from './midi-events';
import { parseNotes, type ReadNotes } from './notes';
import type { GivenRequest } from './types';

/** A note as its file has it, with the fingers and the string that stand there. */
export type FileNote = NonNullable<ImportReading['line']>[number];

/** What a file says of its line beside the notes; nothing that it does not say. */
export type LineFrame = Pick<GivenRequest, 'key' | 'meter' | 'title'> & { readonly tempo?: Bpm | null };

export interface GivenReading extends ReadNotes {
  readonly frame: LineFrame;
  /** The same notes as they stand in the file, one by one; null for files that can say no more of a note. */
  readonly printed: readonly FileNote[] | null;
  /** The parts of the file in order, as words; empty where it has none to choose from. */
  readonly parts: readonly string[];
  /** The part that the line is from, counted from 1; null when it is from none. */
  readonly part: number | null;
}

/** A line needs no chords. */
const chordless: ReadonlySet<string> = new Set(['score-no-chords', 'score-line-only']);
const wholeFile = { line: 1, column: 1, length: 1 };

/** Why a score gives no line: which parts it has instead. */
function withoutLine(
  line: ImportReading['line'],
  parts: readonly string[],
  part: number | undefined,
): readonly Problem[] {
  if (line !== null || parts.length === 0) return [];
  const names = parts.join(', ');
  return part === undefined
    ? [importProblem('line-no-bass', wholeFile, { parts: names })]
    : [importProblem('line-no-part', wholeFile, { asked: part, parts: names })];
}

/** A part that came with a chart: its bars say where its notes begin. */
function lineOfChart(
  { chart, line, parts, part, problems }: ImportReading,
  asked: number | undefined,
): GivenReading {
  const starts: number[] = [];
  chart.bars.reduce((tick, bar) => {
    starts.push(tick);
    return tick + bar.chords.reduce((sum, chord) => sum + chord.length, 0);
  }, 0);
  const printed = line ?? [];
  const { key, tempo, title, meter } = chart.header;
  return {
    notes: printed.map((note) => ({
      midi: note.midi,
      tick: ticks((starts[note.bar] ?? 0) + note.offset),
      ticks: ticks(note.ticks),
      name: note.pitch.name,
    })),
    problems: [...problems.filter(({ code }) => !chordless.has(code)), ...withoutLine(line, parts, asked)],
    frame: { ...(key ? { key } : {}), meter, title, tempo },
    printed,
    parts,
    part,
  };
}

/**
 * The line in a file of any kind. Never throws: what could not be read is among the problems.
 * @param part of a MIDI file, from 1, among those with notes, or of a score; left out, the one most like a bass line
 */
export function readGivenLine(file: Uint8Array, part?: number): GivenReading {
  if (isMidi(file)) {
    const { notes, problems, parts, part: taken, key, ...said } = readMidiLine(file, part);
    const { meter, title, tempo } = said;
    const frame = { ...(key ? { key } : {}), meter, title, tempo };
    return { notes, problems, parts, part: taken, frame, printed: null };
  }
  const reading = importFile(file, part);
  if (reading.kind !== 'text') return lineOfChart(reading, part);
  const plain = { frame: {}, printed: null, parts: [], part: null };
  if (isRefused(reading)) return { ...plain, notes: [], problems: reading.problems };
  return { ...plain, ...parseNotes(decodeText(file)) };
}
