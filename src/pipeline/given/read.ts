// A given line in any of the forms it comes in: note names, a MIDI file, the bass part of MusicXML, a voice of ABC.
import { ticks, type Bpm } from '../../music';
import { decodeText, importFile, isRefused, type ImportReading } from '../1-chart';
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
}

/** A part that came with a chart: its bars say where its notes begin. */
function lineOfChart({ chart, line, problems }: ImportReading): GivenReading {
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
    // A line needs no chords.
    problems: problems.filter(({ code }) => code !== 'score-no-chords'),
    frame: { ...(key ? { key } : {}), meter, title, tempo },
    printed,
  };
}

/**
 * The line in a file of any kind. Never throws: what could not be read is among the problems.
 * @param part of a MIDI file, from 1, among those with notes; left out, the one most like a bass line
 */
export function readGivenLine(file: Uint8Array, part?: number): GivenReading {
  if (isMidi(file)) {
    const { notes, problems, key, meter, title, tempo } = readMidiLine(file, part);
    return { notes, problems, frame: { ...(key ? { key } : {}), meter, title, tempo }, printed: null };
  }
  const reading = importFile(file);
  if (reading.kind !== 'text') return lineOfChart(reading);
  if (isRefused(reading)) return { notes: [], problems: reading.problems, frame: {}, printed: null };
  return { ...parseNotes(decodeText(file)), frame: {}, printed: null };
}
