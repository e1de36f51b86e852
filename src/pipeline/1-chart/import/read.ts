// A file of any kind we know to a chart.
import { readChart } from '../read';
import type { Chart, ChartReading } from '../types';
import { readAbc } from './abc';
import { decodeText, isBinary, isZip } from './bytes';
import type { ImportedNote } from './given';
import { mostUnpackedBytes, readMxl } from './mxl';
import { readMusicXml } from './musicxml';
import type { ProblemValues } from '../diagnostics';
import { foreignKind, isWebPage } from './file-kinds';
import { importProblems, wholeFile, type ImportProblemCode, type ImportProblems } from './problems';

export const importKinds = ['musicxml', 'abc', 'text'] as const;
/** What a file turned out to be; compressed MusicXML counts as MusicXML. */
export type ImportKind = (typeof importKinds)[number];

export interface ImportReading extends ChartReading {
  readonly kind: ImportKind;
  /** A bass line that came with the chart, null when there is none. */
  readonly line: readonly ImportedNote[] | null;
  /** The parts of a score as words, its line among them; empty for files that have none. */
  readonly parts: readonly string[];
  /** The part that the line is from, counted from 1; null when it is from none, or there are none. */
  readonly part: number | null;
}

/** The largest file that is read at all. */
export const mostFileBytes = mostUnpackedBytes;
const bytesInMegabyte = 1024 * 1024;

const emptyChart: Chart = {
  header: { title: '', key: null, meter: { beats: 4, unit: 4 }, tempo: null, feel: 'swing', parts: [] },
  bars: [],
};

const readingOf = (
  kind: ImportKind,
  chart: Chart | null,
  line: readonly ImportedNote[] | null,
  problems: ImportProblems,
  parts: readonly string[] = [],
  part: number | null = null,
): ImportReading => ({ kind, chart: chart ?? emptyChart, line, parts, part, problems: problems.list() });

function refused(code: ImportProblemCode, values: ProblemValues, problems: ImportProblems): ImportReading {
  problems.add(code, wholeFile, values);
  return readingOf('text', null, null, problems);
}

/** True when a file was refused as a whole: there is no text in it to be read in another way. */
export const isRefused = ({ kind, problems }: ImportReading): boolean =>
  kind === 'text' && problems.some(({ code }) => code.startsWith('file-'));

function readScoreText(text: string, problems: ImportProblems, part?: number): ImportReading {
  const reading = readMusicXml(text, problems, part);
  return readingOf(
    'musicxml',
    reading?.chart ?? null,
    reading?.line ?? null,
    problems,
    reading?.parts,
    reading?.part,
  );
}

function readArchive(bytes: Uint8Array, problems: ImportProblems, part?: number): ImportReading {
  const reading = readMxl(bytes);
  if ('score' in reading) return readScoreText(decodeText(reading.score), problems, part);
  if ('holds' in reading) return refused('file-kind', { kind: reading.holds }, problems);
  problems.add(reading.fault, wholeFile, { most: mostUnpackedBytes / bytesInMegabyte });
  return readingOf('musicxml', null, null, problems);
}

const isXml = (text: string): boolean => /^\s*<[?!a-zA-Z]/.test(text);
/** Every tune of the standard has a number and a key. */
const isAbc = (text: string): boolean => /^X:\s*\d*\s*$/m.test(text) && /^K:/m.test(text);

/**
 * Reads text of MusicXML, of ABC, or of our own charts. Never throws.
 * @param part of a score to take the line from, counted from 1; left out, the one for the bass
 */
export function importText(text: string, part?: number): ImportReading {
  const problems = importProblems();
  if (text.length > mostFileBytes)
    return refused('file-large', { most: mostFileBytes / bytesInMegabyte }, problems);
  if (isWebPage(text)) return refused('file-kind', { kind: 'a page of the web' }, problems);
  if (isXml(text)) return readScoreText(text, problems, part);
  if (isAbc(text)) {
    const reading = readAbc(text, problems);
    return readingOf('abc', reading?.chart ?? null, reading?.line ?? null, problems);
  }
  return { kind: 'text', ...readChart(text), line: null, parts: [], part: null };
}

/**
 * Reads a file: MusicXML, compressed or not, ABC, or our own chart text, told apart by what is in it. Never throws: what
 * cannot be read is told with its place. Costs grow with the size of the file, which is limited before and while it is
 * unpacked.
 */
export function importFile(bytes: Uint8Array, part?: number): ImportReading {
  const problems = importProblems();
  if (bytes.length === 0 || bytes.length > mostFileBytes) {
    const code = bytes.length > 0 ? 'file-large' : 'file-empty';
    return refused(code, { most: mostFileBytes / bytesInMegabyte }, problems);
  }
  if (isZip(bytes)) return readArchive(bytes, problems, part);
  const kind = foreignKind(bytes);
  if (kind !== undefined) return refused('file-kind', { kind }, problems);
  const text = decodeText(bytes);
  if (!isXml(text) && isBinary(text)) return refused('file-binary', {}, problems);
  return importText(text, part);
}
