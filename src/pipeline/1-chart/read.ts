// Chart text to a chart as written: the first pass of the whole computation.
import { diagnostics, type Diagnostics } from './diagnostics';
import { BarReader } from './grammar';
import { finishHeader, readHeader, shortTitle, type DraftHeader } from './headers';
import { lex } from './lexer';
import { chordParser, type ChordParser } from './symbols';
import type { BarsLine, ChartLine, HeaderLine, WordToken } from './tokens';
import type { ChartBar, ChartReading, Span } from './types';
import { findSign, isSectionName, sectionsFor } from './words';

const longestText = 400_000;
/** A line of more words is read as a bar, so that what is wrong with it is told. */
const mostProse = 200;
const start: Span = { line: 1, column: 1, length: 1 };

/** A line without bar lines that is mostly words: at most one in three of them can be read, and that by chance. */
function isProse({ tokens, hasBarLine }: BarsLine, usesBarLines: boolean, parse: ChordParser): boolean {
  if (hasBarLine) return false;
  const words = tokens.filter((token): token is WordToken => token.kind === 'word');
  if (words.length < tokens.length || words.length === 0 || words.length > mostProse) return false;
  if (isSectionName(words[0]!.text)) return false;
  const hasSign = words.some(
    (word, index) => /^[%/.]+$/u.test(word.text) || findSign(words.slice(index, index + 4)) !== undefined,
  );
  if (hasSign) return false;
  const isMusic = ({ text }: WordToken): boolean => parse(text).kind !== 'refused' || /\d/u.test(text);
  const music = words.filter(isMusic).length;
  if (music > 0) return words.length >= 3 && music * 3 <= words.length;
  return usesBarLines || words.length > 1 || !/^[A-Ga-g]/u.test(words[0]!.text);
}

/** Meter and key lines among the bars are changes from there on; every other header line speaks of the whole. */
function takeHeader(line: HeaderLine, draft: DraftHeader, reader: BarReader, problems: Diagnostics): void {
  const isChange = reader.hasBars && (line.field === 'meter' || line.field === 'key');
  const said: DraftHeader = isChange ? {} : draft;
  readHeader(said, line, problems);
  if (line.field === 'meter' && said.meter !== undefined) reader.setMeter(said.meter);
  if (isChange && said.key !== undefined) reader.setKey(said.key);
}

function takeProse(line: BarsLine, draft: DraftHeader, reader: BarReader, problems: Diagnostics): void {
  if (draft.title === undefined && !reader.hasBars) {
    draft.title = shortTitle(line.text);
    problems.add('title-taken', line.span, { text: line.text });
  } else problems.add('line-not-read', line.span, { text: line.text });
}

function checkParts(parts: readonly string[], bars: readonly ChartBar[], problems: Diagnostics): void {
  const names = bars.flatMap(({ section }) => (section === null ? [] : [section]));
  for (const part of new Set(parts)) {
    if (sectionsFor(part, names).length === 0) problems.add('part-unknown', start, { text: part });
  }
}

function readLines(lines: readonly ChartLine[], problems: Diagnostics): ChartReading['chart'] {
  const draft: DraftHeader = {};
  const parse = chordParser();
  const reader = new BarReader(finishHeader(draft).meter, parse, problems);
  const usesBarLines = lines.some((line) => line.kind === 'bars' && line.hasBarLine);
  for (const line of lines) {
    if (line.kind === 'header') takeHeader(line, draft, reader, problems);
    else if (line.kind === 'list') problems.add('numbers-taken', line.span, { count: line.count });
    else if (line.kind === 'guessed bars') problems.add('bars-guessed', line.span);
    else if (line.kind === 'unknown header') problems.add('header-unknown', line.span, { name: line.name });
    else if (isProse(line, usesBarLines, parse)) takeProse(line, draft, reader, problems);
    else reader.line(line);
  }
  const bars = reader.finish();
  const header = finishHeader(draft);
  checkParts(header.parts, bars, problems);
  return { header, bars };
}

/**
 * Reads a chart from text. Never throws: what cannot be read is told with its place, and the rest of the chart stands.
 * Linear in the length of the text.
 */
export function readChart(text: string): ChartReading {
  const problems = diagnostics();
  if (text.length > longestText) problems.add('text-long', start, { most: longestText });
  const chart = readLines(lex(text.slice(0, longestText)), problems);
  if (chart.bars.length === 0) problems.add('chart-empty', start);
  return { chart, problems: problems.list() };
}
