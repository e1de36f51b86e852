// A MIDI file as changes: bars without a chord, as long as its line, with the line over them.
import { nameOfPitchClass, pitchClass, spellPitch, type Key } from '../../music';
import {
  barTicks,
  decodeText,
  importFile,
  importText,
  meterText,
  printChart,
  readChart,
  type ImportKind,
  type ImportReading,
} from '../1-chart';
import { readMidiLine } from './midi';
import { isMidi } from './midi-events';

/** What a file holds, changes, a line or both. A MIDI file holds a line and bars, and no chord. */
export interface FileReading extends Omit<ImportReading, 'kind'> {
  readonly kind: ImportKind | 'midi';
  /** The changes as chart text; a file of chart text as it is written. */
  readonly text: string;
}

type Read = Omit<FileReading, 'text'>;

const keyLine = (key: Key | null): string =>
  key === null ? '' : `Key: ${key.tonic}${key.mode === 'minor' ? ' minor' : ''}\n`;

/** Where several parts could be the line, none is taken: which of them is meant is for the player to say. */
function midiAsChart(file: Uint8Array, asked: number | undefined): Read {
  const reading = readMidiLine(file, asked);
  const { tempo, meter, key, title, parts, isClear } = reading;
  const { notes, problems, part } = isClear ? reading : { notes: [], problems: [], part: null };
  const last = notes.at(-1);
  const full = barTicks(meter);
  const bars = last ? Math.ceil((last.tick + last.ticks) / full) : 0;
  // Eighths are played as the file has them.
  const heading = `${keyLine(key)}Meter: ${meterText(meter)}\n${tempo === null ? '' : `Tempo: ${tempo}\n`}Feel: straight\n`;
  const { chart } = readChart(bars === 0 ? '' : `${heading}${'| N.C. '.repeat(bars)}|`);
  const isSharp = key !== null && key.fifths > 0;
  const line = notes.map(({ midi, tick, ticks }) => ({
    bar: Math.floor(tick / full),
    offset: tick % full,
    ticks,
    midi,
    pitch: spellPitch(midi, nameOfPitchClass(pitchClass(midi), isSharp)),
    string: null,
    finger: null,
    otherFingers: [],
  }));
  const header = { ...chart.header, title };
  return { kind: 'midi', chart: { ...chart, header }, line, parts, part, problems };
}

/**
 * A file of any kind, or a text as it was pasted. Never throws: what could not be read is among the problems.
 * @param part of a MIDI file or a score to take the line from, counted from 1; left out, the one that is clearly the bass
 */
export function readChartFile(source: Uint8Array | string, part?: number): FileReading {
  if (typeof source === 'string') {
    const reading = importText(source, part);
    return { ...reading, text: printChart(reading.chart) };
  }
  const reading: Read = isMidi(source) ? midiAsChart(source, part) : importFile(source, part);
  const isWritten = reading.kind === 'text';
  return {
    ...reading,
    text: isWritten ? decodeText(source).replace(/\r\n?/g, '\n') : printChart(reading.chart),
  };
}
