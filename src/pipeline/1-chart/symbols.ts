// The words of one bar joined to whole symbols: "C maj7", "C7 (b9, #11)", "C over E", "F7///".
import { parseChord, type ChordReading } from '../../music';
import { readPlace } from './beat-places';
import type { AlternateToken, LabelToken, ScaleToken, WordToken } from './tokens';
import type { Span } from './types';

export type ChordParser = (text: string) => ChordReading;

/** A parser that reads every spelling once. */
export function chordParser(): ChordParser {
  const known = new Map<string, ChordReading>();
  return (text) => {
    const before = known.get(text);
    if (before !== undefined) return before;
    const parsed = parseChord(text);
    known.set(text, parsed);
    return parsed;
  };
}

/** One symbol, perhaps of several words; `pieces` say where each part of its text stands. */
export interface SymbolWord {
  readonly kind: 'symbol';
  readonly text: string;
  readonly span: Span;
  readonly pieces: readonly { readonly at: number; readonly column: number }[];
}
/** A slash: one beat more, or a short one with a dot. */
export interface SlashMark {
  readonly kind: 'slash';
  readonly short: boolean;
  readonly span: Span;
}
/** A dot by itself: what stands before it is short. */
export interface DotMark {
  readonly kind: 'dot';
  readonly span: Span;
}
/** Where in the bar what stands before it begins. */
export interface PlaceMark {
  readonly kind: 'place';
  readonly text: string;
  /** Beats from the beginning of the bar; a pickup counts as the end of a whole one. */
  readonly beat: number;
  readonly span: Span;
}
export type CellToken = WordToken | LabelToken | AlternateToken | ScaleToken;
export type CellItem =
  SymbolWord | SlashMark | DotMark | PlaceMark | LabelToken | AlternateToken | ScaleToken;
type CutToken = CellToken | PlaceMark;

const isRead = (parse: ChordReading): boolean => parse.kind !== 'refused';
/** The place of a character of a symbol's text. */
export function spanWithin(symbol: SymbolWord, at: number, length: number): Span {
  const piece = symbol.pieces.findLast(({ at: start }) => start <= at) ?? symbol.pieces[0]!;
  const end = symbol.span.column + symbol.span.length;
  const column = Math.min(piece.column + Math.max(at - piece.at, 0), end - 1);
  return { line: symbol.span.line, column, length: Math.max(1, Math.min(length, end - column)) };
}

const part = (word: WordToken, from: number, to: number): WordToken => ({
  kind: 'word',
  text: word.text.slice(from, to),
  span: { line: word.span.line, column: word.span.column + from, length: to - from },
});

const bareNote = /^[A-Ga-g](?:#|b|♯|♭)?$/u;
const abbreviation = /(?:aug|maj|min|dim|alt|sus|dom|ma|mi|add|omit|no)\.$/iu;

/** Takes slashes (and, in a bar with slashes, closing dots) off a word. */
function cut(word: WordToken, withDots: boolean): readonly WordToken[] {
  const { text } = word;
  const lead = /^\/+/u.exec(text)?.[0].length ?? 0;
  if (lead === 1 && bareNote.test(text.slice(1))) return [word];
  if (lead > 0) {
    const slashes = Array.from({ length: lead }, (_, index) => part(word, index, index + 1));
    if (lead === text.length) return slashes;
    if (text.slice(lead) === '.') return [...slashes.slice(0, -1), part(word, lead - 1, lead + 1)];
    return [...slashes, ...cut(part(word, lead, text.length), withDots)];
  }
  const tail = /\/+\.?$/u.exec(text);
  if (tail !== null)
    return [part(word, 0, tail.index), ...cut(part(word, tail.index, text.length), withDots)];
  if (
    withDots &&
    text.length > 1 &&
    text.endsWith('.') &&
    !abbreviation.test(text) &&
    !/^n\.c\.$/iu.test(text)
  ) {
    return [part(word, 0, text.length - 1), part(word, text.length - 1, text.length)];
  }
  return [word];
}

/** Takes a place off the end of a word; what else has an `@` in it stays as it is. */
function cutPlace(word: WordToken): readonly CutToken[] {
  const at = word.text.indexOf('@');
  const beat = at < 0 ? undefined : readPlace(word.text.slice(at + 1));
  if (beat === undefined) return [word];
  const { text, span } = part(word, at, word.text.length);
  const mark: PlaceMark = { kind: 'place', text: text.slice(1), beat, span };
  return at === 0 ? [mark] : [part(word, 0, at), mark];
}

const asSymbol = (word: WordToken): SymbolWord => ({
  kind: 'symbol',
  text: word.text,
  span: word.span,
  pieces: [{ at: 0, column: word.span.column }],
});

function joined(symbol: SymbolWord, next: WordToken, gap: string): SymbolWord {
  const text = `${symbol.text}${gap}${next.text}`;
  const { line, column } = symbol.span;
  return {
    kind: 'symbol',
    text,
    span: { line, column, length: next.span.column + next.span.length - column },
    pieces: [...symbol.pieces, { at: text.length - next.text.length, column: next.span.column }],
  };
}

const isOpen = (text: string): boolean => text.split('(').length > text.split(')').length;
const isAlteration = (text: string): boolean => /^\(?[b#♭♯+-](?:5|6|9|11|13)\)?$/u.test(text);
const isMark = (text: string): boolean => /^\/?\.?$/u.test(text) || /^%+$/u.test(text);

/** The longest run of up to four words from `index` that reads as one symbol. */
function longestSymbolAt(
  words: readonly CutToken[],
  index: number,
  parse: ChordParser,
): { symbol: SymbolWord; words: number } {
  let symbol = asSymbol(words[index] as WordToken);
  let best = { symbol, words: 1 };
  for (let count = 2; count <= 4; count += 1) {
    const next = words[index + count - 1];
    if (next?.kind !== 'word' || isMark(next.text)) break;
    const over = /^over$/iu.test(next.text) || / over$/iu.test(symbol.text);
    const goesOn = over || isOpen(symbol.text) || isAlteration(next.text) || !isRead(parse(next.text));
    if (!goesOn) break;
    const wasOpen = isOpen(symbol.text) && !symbol.text.startsWith('(');
    symbol = joined(symbol, next, over ? ' ' : '');
    // What a bracket inside the symbol holds belongs to it even when it cannot be read.
    const isClosed = wasOpen && !isOpen(symbol.text);
    if (isClosed || isRead(parse(symbol.text))) best = { symbol, words: count };
    if (isClosed) break;
  }
  return best;
}

/**
 * Joins words to symbols. With `slashIsBass`, "C / E" is C over E; without, every slash is a beat.
 */
export function symbolsOf(
  tokens: readonly CellToken[],
  parse: ChordParser,
  slashIsBass: boolean,
): readonly CellItem[] {
  const hasSlash = tokens.some((token) => token.kind === 'word' && /^\/+\.?$|[^/]\/+\.?$/u.test(token.text));
  const words = tokens
    .flatMap((token): readonly CutToken[] => (token.kind === 'word' ? cutPlace(token) : [token]))
    .flatMap((token): readonly CutToken[] => (token.kind === 'word' ? cut(token, hasSlash) : [token]));
  const items: CellItem[] = [];
  for (let index = 0; index < words.length; index += 1) {
    const token = words[index]!;
    if (token.kind !== 'word') {
      items.push(token);
    } else if (token.text === '/' || token.text === '/.') {
      const bass = words[index + 1];
      const before = items.at(-1);
      if (slashIsBass && before?.kind === 'symbol' && bass?.kind === 'word' && bareNote.test(bass.text)) {
        items[items.length - 1] = joined(before, bass, '/');
        index += 1;
      } else items.push({ kind: 'slash', short: token.text === '/.', span: token.span });
    } else if (token.text === '.') {
      items.push({ kind: 'dot', span: token.span });
    } else {
      const { symbol, words: taken } = longestSymbolAt(words, index, parse);
      items.push(symbol);
      index += taken - 1;
    }
  }
  return items;
}
