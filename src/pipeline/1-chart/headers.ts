// Header lines to what they say.
import { bpm, parseKey, tempoRange, type Bpm, type Key, type Meter } from '../../music';
import type { Diagnostics } from './diagnostics';
import { feelOfWords } from './feel-words';
import { parseMeter } from './meter';
import type { HeaderField, HeaderLine } from './tokens';
import { feels, type ChartHeader, type Feel, type Span } from './types';

const longestTitle = 200;
const mostParts = 64;

/** Header while it is read: undefined where nothing has been said. */
export interface DraftHeader {
  title?: string | undefined;
  key?: Key | undefined;
  meter?: Meter | undefined;
  tempo?: Bpm | undefined;
  feel?: Feel | undefined;
  parts?: readonly string[] | undefined;
}

/** A title of bearable length. */
export const shortTitle = (text: string): string => text.slice(0, longestTitle).trim();

/** Undefined, with a problem told, when the text is not a key. */
export function readKey(text: string, span: Span, problems: Diagnostics): Key | undefined {
  const key = parseKey(text);
  if (key === undefined) problems.add('key-unknown', span, { text });
  return key;
}

/** Undefined, with a problem told, when the text is not a meter. */
export function readMeter(text: string, span: Span, problems: Diagnostics): Meter | undefined {
  const meter = parseMeter(text);
  if (meter === undefined) problems.add('meter-unknown', span, { text });
  return meter;
}

/** "132", "132 bpm", "♩ = 132", "1/4=132". */
function readTempo(text: string, span: Span, problems: Diagnostics): Bpm | undefined {
  const match = /^(?:.{0,12}=)? *(\d{1,4}(?:\.\d{1,3})?) *(?:bpm)?$/iu.exec(text);
  if (match === null) {
    problems.add('tempo-unknown', span, { text });
    return undefined;
  }
  const asked = Number(match[1]);
  const tempo = Math.min(Math.max(asked, tempoRange.least), tempoRange.most);
  if (tempo !== asked) problems.add('tempo-range', span, { ...tempoRange, tempo, asked });
  return bpm(tempo);
}

function readFeel(text: string, span: Span, problems: Diagnostics): Feel | undefined {
  const feel = feelOfWords(text);
  if (feel === undefined) problems.add('feel-unknown', span, { text, feels: feels.join(', ') });
  return feel;
}

/** "A A B A", "A-A-B-A", "AABA", "Intro A x2 B", 'A "Tag 2"'. */
function readParts(text: string, span: Span, problems: Diagnostics): readonly string[] {
  const named = text.match(/"[^"]*"|[^ ,\u2013"-]+/gu) ?? [];
  const [only = ''] = named;
  const words = named.length === 1 && /^[A-Z]{2,16}$/u.test(only) ? [...only] : named;
  const parts: string[] = [];
  for (const word of words) {
    if (parts.length > mostParts) break;
    const times = /^[x×](\d{1,2})$/iu.exec(word);
    const part = times === null ? word.replaceAll('"', '').trim() : parts.at(-1);
    const count = times === null ? 1 : Number(times[1]) - 1;
    if (part) parts.push(...Array.from({ length: count }, () => part));
  }
  if (parts.length > mostParts) problems.add('form-long', span, { most: mostParts });
  return parts.slice(0, mostParts);
}

const already: Readonly<Record<HeaderField, keyof DraftHeader>> = {
  title: 'title',
  key: 'key',
  meter: 'meter',
  tempo: 'tempo',
  feel: 'feel',
  form: 'parts',
};

/** Takes one header line into the draft; the last of several wins. */
export function readHeader(draft: DraftHeader, line: HeaderLine, problems: Diagnostics): void {
  const { field, value, span, valueSpan } = line;
  if (value === '') {
    problems.add('header-empty', span, { name: field });
    return;
  }
  if (draft[already[field]] !== undefined) problems.add('header-twice', span, { name: field });
  switch (field) {
    case 'title':
      draft.title = shortTitle(value);
      break;
    case 'key':
      draft.key = readKey(value, valueSpan, problems) ?? draft.key;
      break;
    case 'meter':
      draft.meter = readMeter(value, valueSpan, problems) ?? draft.meter;
      break;
    case 'tempo':
      draft.tempo = readTempo(value, valueSpan, problems) ?? draft.tempo;
      break;
    case 'feel':
      draft.feel = readFeel(value, valueSpan, problems) ?? draft.feel;
      break;
    case 'form':
      draft.parts = readParts(value, valueSpan, problems);
  }
}

const common: Meter = { beats: 4, unit: 4 };

/** The header with what is usual where nothing was said: 4/4; a waltz in three, else swing. */
export function finishHeader(draft: DraftHeader): ChartHeader {
  const meter = draft.meter ?? common;
  return {
    title: draft.title ?? '',
    key: draft.key ?? null,
    meter,
    tempo: draft.tempo ?? null,
    feel: draft.feel ?? (meter.beats === 3 ? 'waltz' : 'swing'),
    parts: draft.parts ?? [],
  };
}
