// An ABC tune to a chart and a line: form, meter, key, tempo, lengths, chord symbols, and the notes of one voice.
// Source: ABC notation 2.1.
import type { Bpm, Key, Meter } from '../../../music';
import { feelOfWords } from '../feel-words';
import type { Chart, ChartBar, Feel, Span } from '../types';
import {
  partOrder,
  withoutEscapes,
  readKeyField,
  readMeterField,
  readTempoField,
  unitLength,
} from './abc-header';
import { AbcVoice } from './abc-voice';
import { finishBars } from './finish';
import type { ImportedNote } from './given';
import { wholeFile, type ImportProblems } from './problems';

interface Header {
  title: string;
  meter: Meter | null;
  unit: number | null;
  key: Key | null;
  tempo: Bpm | null;
  feel: Feel | null;
  parts: readonly string[];
  /** What the K: field says beside the key. */
  keyField: string;
  /** What V: fields say, by the name of the voice. */
  readonly voices: Map<string, string>;
}

export interface AbcReading {
  readonly chart: Chart;
  readonly line: readonly ImportedNote[] | null;
}

interface AbcLine {
  readonly text: string;
  readonly number: number;
}

/** What stands behind the first few hundred characters of a field is no music. */
const fieldPattern = /^([A-Za-z+]):(.{0,500})/;
const longestTitle = 200;

const withoutComment = (text: string): string => text.replace(/(^|[^\\])%.*$/, '$1');

const lineSpan = ({ text, number }: AbcLine): Span => ({
  line: number,
  column: 1,
  length: Math.max(1, text.length),
});

/** The lines of the first tune, and whether another follows. */
function firstTune(text: string): { lines: readonly AbcLine[]; hasMore: boolean } {
  const lines = text.split(/\r\n|\n|\r/).map((line, index) => ({ text: line, number: index + 1 }));
  const start = lines.findIndex((line) => /^X:/.test(line.text));
  const tune = lines.slice(Math.max(0, start));
  const key = tune.findIndex((line) => /^K:/.test(line.text));
  // A blank line ends a tune; before its music a forgiving reader goes on.
  const end = tune.findIndex(
    (line, index) => index > key && (line.text.trim() === '' || /^X:/.test(line.text)),
  );
  const after = end < 0 ? [] : tune.slice(end);
  return { lines: end < 0 ? tune : tune.slice(0, end), hasMore: after.some((line) => /^X:/.test(line.text)) };
}

const voiceName = (value: string): string => value.trim().split(/\s/)[0] || '1';

function readHeaderField(
  header: Header,
  letter: string,
  value: string,
  span: Span,
  problems: ImportProblems,
): void {
  switch (letter) {
    case 'T':
      header.title ||= withoutEscapes(value).slice(0, longestTitle);
      return;
    case 'M':
      header.meter = readMeterField(value, span, problems) ?? header.meter;
      return;
    case 'L': {
      const unit = unitLength(value);
      if (unit === undefined) problems.add('abc-length', span, { text: value });
      else header.unit = unit;
      return;
    }
    case 'Q':
      header.tempo = readTempoField(value, span, problems);
      header.feel ??= feelOfWords(/"([^"]*)"/.exec(value)?.[1] ?? '') ?? null;
      return;
    case 'R':
      header.feel = feelOfWords(value) ?? header.feel;
      return;
    case 'P': {
      const parts = partOrder(value);
      if (parts === undefined) problems.add('abc-parts', span, { text: value });
      else header.parts = parts;
      return;
    }
    case 'V':
      header.voices.set(voiceName(value), value);
      return;
    case 'K':
      header.key = readKeyField(value, span, problems) ?? null;
      header.keyField = value;
  }
}

/** Voices by name; music goes to the one that was named last. */
class Voices {
  private readonly known = new Map<string, AbcVoice>();
  current: AbcVoice;

  constructor(
    private readonly header: Header,
    private readonly problems: ImportProblems,
  ) {
    this.current = this.voice('1');
  }

  private voice(name: string): AbcVoice {
    const known = this.known.get(name);
    if (known) return known;
    const made = new AbcVoice(
      name,
      this.header.meter ?? { beats: 4, unit: 4 },
      this.header.unit,
      this.problems,
    );
    made.line.setKey(this.header.key);
    made.line.setSounding(this.header.keyField);
    made.line.setSounding(this.header.voices.get(name) ?? '');
    this.known.set(name, made);
    return made;
  }

  change(value: string): void {
    this.current = this.voice(voiceName(value));
    this.current.line.setSounding(value);
  }

  /** The voice with the most chord symbols. */
  finish(): AbcVoice {
    const voices = [...this.known.values()];
    for (const voice of voices) voice.finish();
    const filled = voices.filter(({ bars }) => bars.length > 0);
    const best = filled.reduce(
      (most, voice) => (voice.chordCount > most.chordCount ? voice : most),
      filled[0] ?? this.current,
    );
    if (filled.length > 1) this.problems.add('abc-voices', wholeFile, { name: best.name });
    // The line is the first voice with notes, or the first of those in a bass clef.
    const played = filled.filter(({ line }) => line.count > 0);
    const own = played.find(({ line }) => line.isBass) ?? played[0];
    own?.line.finish(own.bars, best.bars);
    return best;
  }
}

/** Fields that concern every voice reach the one they stand in; words, notes and the like say nothing here. */
function readBody(lines: readonly AbcLine[], header: Header, problems: ImportProblems): AbcVoice {
  const voices = new Voices(header, problems);
  for (const line of lines) {
    const text = withoutComment(line.text);
    const field = fieldPattern.exec(text);
    if (field?.[1] === 'V') {
      voices.change(field[2]!);
    } else if (field) {
      voices.current.field(field[1]!, field[2]!.trim(), lineSpan(line));
    } else {
      const inline = /^\s*\[V:([^\]]*)\]/.exec(text);
      if (inline) voices.change(inline[1]!);
      voices.current.music(text, line.number);
    }
  }
  return voices.finish();
}

function checkParts(parts: readonly string[], bars: readonly ChartBar[], problems: ImportProblems): void {
  const known = new Set(bars.map(({ section }) => section?.toLowerCase()));
  for (const part of new Set(parts)) {
    if (!known.has(part.toLowerCase())) problems.add('part-unknown', wholeFile, { text: part });
  }
}

/** Reads the first tune of an ABC text. Null when there is none, which is told. Never throws. */
export function readAbc(text: string, problems: ImportProblems): AbcReading | null {
  const { lines, hasMore } = firstTune(text);
  if (hasMore) problems.add('abc-tunes-many', wholeFile);
  const keyAt = lines.findIndex((line) => /^K:/.test(line.text));
  if (keyAt < 0) {
    problems.add('abc-no-tune', wholeFile);
    return null;
  }
  const header: Header = {
    title: '',
    meter: null,
    unit: null,
    key: null,
    tempo: null,
    feel: null,
    parts: [],
    keyField: '',
    voices: new Map(),
  };
  for (const line of lines.slice(0, keyAt + 1)) {
    const field = fieldPattern.exec(withoutComment(line.text));
    if (field) readHeaderField(header, field[1]!, field[2]!.trim(), lineSpan(line), problems);
  }
  const voice = readBody(lines.slice(keyAt + 1), header, problems);
  const { bars, notes } = finishBars(voice.bars, problems);
  if (bars.length === 0) problems.add('score-empty', wholeFile);
  else if (bars.every(({ chords }) => chords.every(({ chord }) => chord === null))) {
    problems.add('score-no-chords', wholeFile);
  }
  checkParts(header.parts, bars, problems);
  const meter = bars[0]?.meter ?? header.meter ?? { beats: 4, unit: 4 };
  const usual: Feel = meter.beats === 3 && meter.unit === 4 ? 'waltz' : 'swing';
  const chart: Chart = {
    header: {
      title: header.title,
      key: header.key,
      meter,
      tempo: header.tempo,
      feel: header.feel ?? usual,
      parts: header.parts,
    },
    bars,
  };
  return { chart, line: notes.length > 0 ? notes : null };
}
