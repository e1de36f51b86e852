// The fields of an ABC tune. Source: ABC notation 2.1.
import {
  churchModeOf,
  makeKey,
  parseNoteName,
  tempoRange,
  bpm,
  type Bpm,
  type Key,
  type Meter,
} from '../../../music';
import { parseMeter } from '../meter';
import type { Span } from '../types';
import type { ImportProblems } from './problems';

/** A fraction of a whole note. */
const fraction = /(\d{1,3})\s*\/\s*(\d{1,3})/;

/** "1/8" as a fraction of a whole note; undefined when it is none. */
export function unitLength(text: string): number | undefined {
  const match = /^(\d{1,2})(?:\s*\/\s*(\d{1,3}))?$/.exec(text.trim());
  const length = match ? Number(match[1]) / Number(match[2] ?? 1) : 0;
  return length > 0 && Number.isFinite(length) ? length : undefined;
}

/** The unit that holds when no L: stands: a sixteenth for meters under three quarters of a whole note, else an eighth. */
export const usualUnit = ({ beats, unit }: Meter): number => (beats / unit < 0.75 ? 1 / 16 : 1 / 8);

/** "4/4", "C", "C|", "2+3/8", "(2+3)/8"; null for "none". */
export function readMeterField(text: string, span: Span, problems: ImportProblems): Meter | null | undefined {
  const plain = text.replace(/[()\s]/g, '');
  if (/^none$/i.test(plain) || plain === '') return null;
  const sum = /^(\d+(?:\+\d+)*)\/(\d+)$/.exec(plain);
  const beats = sum?.[1]!.split('+').reduce((total, part) => total + Number(part), 0);
  const meter = parseMeter(sum ? `${beats}/${sum[2]}` : plain);
  if (meter === undefined) problems.add('meter-unread', span, { text });
  return meter;
}

/** Modes by the first three letters, with the mode that has the same third. */
const modes: Readonly<Record<string, Key['mode']>> = {
  maj: 'major',
  ion: 'major',
  mix: 'major',
  lyd: 'major',
  min: 'minor',
  aeo: 'minor',
  dor: 'minor',
  phr: 'minor',
  loc: 'minor',
};

/** Words that may follow a key and say nothing about it. */
const furniture = /\b(clef|middle|transpose|octave|stafflines|staffscale|style|shift|name|nm|snm|exp)\b.*$/i;
const clefWord = /\s*\b(treble|bass|alto|tenor|perc|none)[123456]?([+-]8)?\s*$/i;

/** The key of a K: field; null for none, undefined when it cannot be read or says only a clef. */
export function readKeyField(text: string, span: Span, problems: ImportProblems): Key | null | undefined {
  const said = text.replace(furniture, '').trim();
  if (/^none$/i.test(said) || text.trim() === '') return null;
  const plain = said.replace(clefWord, '').trim();
  // A field such as "K:clef=bass" changes the clef alone.
  if (plain === '') return undefined;
  if (/^H[pP]$/.test(plain)) return makeKey(parseNoteName('D')!, 'major');
  const match = /^([A-G])\s*([#b♯♭]?)\s*([A-Za-z]*)/.exec(plain);
  const tonic = match && parseNoteName(`${match[1]}${match[2]!.replace('♯', '#').replace('♭', 'b')}`);
  const word = match?.[3]!.toLowerCase().slice(0, 3) ?? '';
  const mode = word === '' ? 'major' : word === 'm' ? 'minor' : modes[word];
  if (!tonic || mode === undefined) {
    problems.add('key-unread', span, { text });
    return undefined;
  }
  return makeKey(tonic, mode, churchModeOf(word));
}

/** "1/4=120", "\"Medium\" 3/8=60", "1/8 3/8=40", "120"; quarter notes a minute. */
export function readTempoField(text: string, span: Span, problems: ImportProblems): Bpm | null {
  const said = text.replace(/"[^"]*"/g, ' ').trim();
  if (said === '') return null;
  const match = /^(?:[A-Za-z]?\s*(.*)=)?\s*(\d{1,4}(?:\.\d{1,3})?)$/.exec(said);
  const beats = (match?.[1] ?? '').split(/\s+/).flatMap((part) => {
    const parts = fraction.exec(part);
    return parts ? [Number(parts[1]) / Number(parts[2])] : [];
  });
  const length = beats.length === 0 ? 1 / 4 : beats.reduce((sum, beat) => sum + beat, 0);
  const asked = Math.round(Number(match?.[2]) * length * 4 * 1000) / 1000;
  if (!match || !Number.isFinite(asked)) {
    problems.add('tempo-unread', span, { text });
    return null;
  }
  const kept = Math.min(Math.max(asked, tempoRange.least), tempoRange.most);
  if (kept !== asked) problems.add('tempo-range', span, { ...tempoRange, tempo: kept, asked });
  return bpm(kept);
}

const mostParts = 64;
const partToken = /"([^"]*)"|([A-Za-z])|([()])|(\d{1,2})|([.\s])|(.)/gu;

/**
 * The order of parts in a P: field: "AABA", "A.A.B.A", "A3(BC)2". A name of more than a letter stands in quotation marks,
 * which is ours and not the standard's. Undefined when the brackets or a sign make no sense.
 */
export function partOrder(text: string): readonly string[] | undefined {
  const stack: string[][] = [[]];
  let last: readonly string[] = [];
  for (const [, quoted, letter, bracket, count, blank] of text.matchAll(partToken)) {
    const parts = stack.at(-1)!;
    const name = quoted ?? letter;
    if (name !== undefined) {
      last = [name];
      parts.push(name);
    } else if (bracket === '(') {
      if (stack.length > 8) return undefined;
      stack.push([]);
      last = [];
    } else if (bracket === ')') {
      if (stack.length === 1) return undefined;
      last = stack.pop()!;
      stack.at(-1)!.push(...last);
    } else if (count !== undefined) {
      for (let time = 1; time < Number(count) && parts.length < mostParts; time += 1) parts.push(...last);
    } else if (blank === undefined) {
      return undefined;
    }
    if (stack.reduce((sum, own) => sum + own.length, 0) > 4 * mostParts) return stack[0]!.slice(0, mostParts);
  }
  return stack.length === 1 ? stack[0]!.slice(0, mostParts) : undefined;
}

/** Text without the escapes that a comment sign or a backslash needs. */
export const withoutEscapes = (text: string): string =>
  text
    .replace(/\\([%\\&])/g, '$1')
    .replace(/\s+/g, ' ')
    .trim();
