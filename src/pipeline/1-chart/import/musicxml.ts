// MusicXML text to a chart and, where it has a bass part, to that line.
import { bpm, inferKey, makeKey, tempoRange, type Bpm, type Chord, type Key } from '../../../music';
import { cleanName } from '../words';
import { keyOfChart, transposeChart } from '../transpose';
import { feels, type Chart, type ChartBar, type ChartHeader } from '../types';
import { finishBars } from './finish';
import type { ImportedNote } from './given';
import { bassStaff, isBassPart, movedName } from './musicxml-notes';
import { placeLine } from './musicxml-line';
import { readPart, type PartReading } from './musicxml-part';
import { keyOf, type FileKey } from './musicxml-state';
import type { ImportProblems } from './problems';
import type { SketchBar } from './sketch';
import { childNamed, childrenNamed, descend, readXml, spanOf, textOf, type XmlNode } from './xml';

/** What a score gives. */
export interface ScoreReading {
  readonly chart: Chart;
  /** The bass line, null when there is none. */
  readonly line: readonly ImportedNote[] | null;
  /** The parts of the score in order, as words: their names and how many notes they have. */
  readonly parts: readonly string[];
  /** The part that the line is from, counted from 1; null when it is from none. */
  readonly part: number | null;
}

const mostBars = 20_000;
/** A large orchestra with every player apart. */
const mostScoreParts = 200;
const longestTitle = 200;

interface ScorePart {
  readonly node: XmlNode;
  readonly listed: XmlNode | undefined;
  readonly measures: readonly XmlNode[];
}

/** The parts of a score, whichever way it is laid out. */
function partsOf(root: XmlNode): ScorePart[] {
  const listed = new Map(
    childrenNamed(childNamed(root, 'part-list') ?? root, 'score-part').map((one) => [
      one.attributes['id'],
      one,
    ]),
  );
  if (root.name === 'score-partwise') {
    return childrenNamed(root, 'part').map((node) => ({
      node,
      listed: listed.get(node.attributes['id']),
      measures: childrenNamed(node, 'measure'),
    }));
  }
  const measures = childrenNamed(root, 'measure').slice(0, mostBars + 1);
  const byPart = measures.map(
    (measure) =>
      new Map(childrenNamed(measure, 'part').map((part) => [part.attributes['id'], part.children])),
  );
  const ids = [...new Set(byPart.flatMap((parts) => [...parts.keys()]))].slice(0, mostScoreParts);
  return ids.map((id) => {
    const own = measures.map((measure, index): XmlNode => ({
      ...measure,
      children: byPart[index]!.get(id) ?? [],
    }));
    return { node: { ...root, children: own }, listed: listed.get(id), measures: own };
  });
}

const harmonyCount = ({ measures }: ScorePart): number =>
  measures.reduce((sum, measure) => sum + childrenNamed(measure, 'harmony').length, 0);

/** Signs of the form often stand in the first part alone. */
function takeSigns(bars: readonly SketchBar[], from: readonly SketchBar[]): void {
  for (const [index, bar] of bars.entries()) {
    const other = from[index];
    if (!other) continue;
    bar.section ??= other.section;
    bar.segno ||= other.segno;
    bar.coda ??= other.coda;
    bar.toCoda ||= other.toCoda;
    bar.fine ||= other.fine;
    bar.jump ??= other.jump;
    bar.repeatStart ||= other.repeatStart;
    bar.repeatEnd ||= other.repeatEnd;
    bar.times ??= other.times;
    bar.opensEnding ??= other.opensEnding;
    bar.endingStops ??= other.endingStops;
  }
}

function titleOf(root: XmlNode): string {
  const credit = childrenNamed(root, 'credit').find((one) => textOf(one, 'credit-type') === 'title');
  const title =
    descend(root, 'work', 'work-title')?.text ||
    textOf(root, 'movement-title') ||
    (credit && textOf(credit, 'credit-words')) ||
    '';
  return title.replace(/\s+/g, ' ').trim().slice(0, longestTitle);
}

/** What our own files say beside the score: fields that other programs keep and do not read. */
function miscellaneous(root: XmlNode, name: string): string | undefined {
  const fields = descend(root, 'identification', 'miscellaneous');
  return (
    fields &&
    childrenNamed(fields, 'miscellaneous-field').find((one) => one.attributes['name'] === name)?.text
  );
}

const mostParts = 64;

function formOf(root: XmlNode): readonly string[] {
  try {
    const form: unknown = JSON.parse(miscellaneous(root, 'form') ?? '[]');
    const names = Array.isArray(form) ? form.filter((one) => typeof one === 'string') : [];
    return names.map(cleanName).filter(Boolean).slice(0, mostParts);
  } catch {
    return [];
  }
}

function tempoOf(reading: PartReading, problems: ImportProblems): Bpm | null {
  const { tempo } = reading.heading;
  if (tempo === null) return null;
  const asked = Math.round(tempo.asked * 1000) / 1000;
  const kept = Math.min(Math.max(asked, tempoRange.least), tempoRange.most);
  if (kept !== asked) problems.add('tempo-range', spanOf(tempo.node), { ...tempoRange, tempo: kept, asked });
  return bpm(kept);
}

const chordsIn = (bars: readonly ChartBar[]): Chord[] =>
  bars.flatMap(({ chords }) => chords.flatMap(({ chord }) => (chord === null ? [] : [chord])));

/** A signature without a mode is major unless the chords speak for its relative minor. */
function headerKey(key: FileKey | null, bars: readonly ChartBar[]): Key | null {
  if (key === null) return null;
  if (key.mode !== null) return keyOf(key.fifths, key.mode);
  const minor = keyOf(key.fifths, 'minor');
  const inferred = inferKey(chordsIn(bars));
  return inferred.fifths === minor.fifths && inferred.mode === 'minor' ? minor : keyOf(key.fifths, 'major');
}

function headerOf(
  root: XmlNode,
  reading: PartReading,
  bars: readonly ChartBar[],
  problems: ImportProblems,
): ChartHeader {
  const meter = bars[0]?.meter ?? { beats: 4, unit: 4 };
  const named = feels.find((feel) => feel === miscellaneous(root, 'feel'));
  const usual = reading.heading.isStraight
    ? 'straight'
    : meter.beats === 3 && meter.unit === 4
      ? 'waltz'
      : 'swing';
  return {
    title: titleOf(root),
    key: headerKey(reading.firstKey, bars),
    meter,
    tempo: tempoOf(reading, problems),
    feel: named ?? reading.heading.feel ?? usual,
    parts: formOf(root),
  };
}

/** The chart as it sounds, when its chords are written for a transposing instrument. */
function sounding(chart: Chart, { transposition, bars }: PartReading, problems: ImportProblems): Chart {
  if (transposition.chromatic === 0) return chart;
  problems.add('transposed', bars[0]!.span);
  const from = keyOfChart(chart);
  return transposeChart(chart, makeKey(movedName(from.tonic, transposition), from.mode, from.church));
}

const longestName = 40;

/** “Guitar” (24 notes) */
function partText({ listed, measures }: ScorePart, index: number): string {
  const name = (listed && textOf(listed, 'part-name'))?.replace(/\s+/g, ' ').slice(0, longestName);
  const notes = measures.reduce(
    (sum, measure) => sum + childrenNamed(measure, 'note').filter((note) => childNamed(note, 'pitch')).length,
    0,
  );
  return `${index + 1}${name ? ` “${name}”` : ''} (${notes === 1 ? '1 note' : `${notes} notes`})`;
}

/** @param part the part to take the line from, counted from 1; left out, the one for the bass */
function readScore(root: XmlNode, problems: ImportProblems, part: number | undefined): ScoreReading | null {
  const parts = partsOf(root).filter(({ measures }) => measures.length > 0);
  const [first] = parts;
  if (!first) {
    problems.add('score-empty', spanOf(root));
    return null;
  }
  const withChords = parts.reduce((best, part) => (harmonyCount(part) > harmonyCount(best) ? part : best));
  const bass =
    part === undefined ? parts.find(({ node, listed }) => isBassPart(node, listed)) : parts[part - 1];
  if (withChords.measures.length > mostBars) problems.add('bars-many', spanOf(root), { most: mostBars });
  const read = (part: ScorePart): PartReading => readPart(part.measures.slice(0, mostBars), problems);
  const reading = read(withChords);
  if (first !== withChords) {
    const other = read(first);
    takeSigns(reading.bars, other.bars);
    reading.heading.tempo ??= other.heading.tempo;
    reading.heading.feel ??= other.heading.feel;
  }
  if (bass) {
    const { notes } = bass === withChords ? reading : read(bass);
    const staff = bassStaff(bass.node);
    placeLine(
      reading.bars,
      notes.map((bar) => bar.filter((note) => staff === null || note.staff === staff)),
      problems,
    );
  }
  const { bars, notes } = finishBars(reading.bars, problems);
  if (chordsIn(bars).length === 0) {
    if (notes.length > 0) problems.add('score-line-only', spanOf(root), { count: notes.length });
    else problems.add('score-no-chords', spanOf(root));
  }
  const chart = sounding({ header: headerOf(root, reading, bars, problems), bars }, reading, problems);
  const line = notes.length > 0 ? notes : null;
  return {
    chart,
    line,
    parts: parts.map(partText),
    part: line === null || bass === undefined ? null : parts.indexOf(bass) + 1,
  };
}

/** Reads MusicXML, partwise or timewise. Null when there is no score in it, which is told. Never throws. */
export function readMusicXml(text: string, problems: ImportProblems, part?: number): ScoreReading | null {
  const reading = readXml(text);
  if ('fault' in reading) {
    const { code, line, column, detail } = reading.fault;
    problems.add(code, { line, column, length: 1 }, { detail });
    return null;
  }
  const { root } = reading;
  if (root.name !== 'score-partwise' && root.name !== 'score-timewise') {
    problems.add('xml-not-score', spanOf(root), { name: root.name });
    return null;
  }
  return readScore(root, problems, part);
}
