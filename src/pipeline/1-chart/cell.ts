// One bar's words to the bars they stand for: chords, a simile, or only the chord before.
import type { Meter } from '../../music';
import type { Diagnostics } from './diagnostics';
import { fillsBar, heldChord, layOut, repeated } from './layout';
import { barTicks, beatTicks } from './meter';
import { readPlaces, type PlacesBefore } from './places';
import { symbolsOf, type CellItem, type CellToken, type ChordParser } from './symbols';
import type { ChartBar, ChartChord, Span } from './types';

/** What the reading of a bar depends on. */
export interface CellContext extends PlacesBefore {
  readonly meter: Meter;
  readonly pickup: boolean;
  /** Beats it lasts, when that was said. */
  readonly pickupBeats: number | undefined;
  /** The bars a simile repeats, the nearest last. */
  readonly before: readonly ChartBar[];
  readonly span: Span;
  readonly parse: ChordParser;
  readonly problems: Diagnostics;
}

export interface CellBar {
  readonly chords: readonly ChartChord[];
  readonly simile: ChartBar['simile'];
  /** See `Places`. */
  readonly bracket: Span | null;
}

const similes: ReadonlyMap<string, 1 | 2> = new Map([
  ['%', 1],
  ['𝄎', 1],
  ['./.', 1],
  ['·/·', 1],
  ['%%', 2],
  ['𝄏', 2],
]);
const silent: Diagnostics = { add: () => undefined, addChord: () => undefined, list: () => [] };

const simileOf = (token: CellToken): 1 | 2 | undefined =>
  token.kind === 'word' ? similes.get(token.text) : undefined;

function simileBars(length: 1 | 2, context: CellContext): readonly CellBar[] {
  const { before, meter, problems, span, bracket } = context;
  const sources = before.slice(-length);
  if (sources.length < length) {
    problems.add('simile-nothing', span, { count: length });
    const held = [heldChord(context.previous ?? null, barTicks(meter))];
    return Array.from({ length }, () => ({ chords: held, simile: null, bracket }));
  }
  return sources.map(({ chords }) => ({
    chords: repeated(chords, barTicks(meter)),
    simile: length,
    bracket,
  }));
}

const isDash = (token: CellToken): boolean => token.kind === 'word' && /^[-‐‑–—−]+$/u.test(token.text);
const isPoint = (token: CellToken): boolean => token.kind === 'word' && /^[.·]+$/u.test(token.text);

/** "C7 - - -" and "C7 . . F7": dashes and points that fill the bar as beats are beats. Other dashes between chords say nothing. */
function withBeats(tokens: readonly CellToken[], context: CellContext): readonly CellToken[] {
  if (!tokens.some((token) => isDash(token) || isPoint(token))) return tokens;
  const fills = (read: readonly CellToken[]): boolean =>
    fillsBar(
      readPlaces(symbolsOf(read, context.parse, false), context, context.parse, silent),
      context.meter,
    );
  const asBeats = tokens.map((token) =>
    token.kind === 'word' && (isDash(token) || isPoint(token))
      ? { ...token, text: '/'.repeat(token.text.length) }
      : token,
  );
  if (!fills(tokens) && fills(asBeats)) return asBeats;
  const spoken = tokens.filter((token) => !isDash(token));
  return spoken.length > 0 ? spoken : tokens;
}

/** "C / E" is a slash chord when reading the slash as a beat does not fill the bar and reading it so does. */
function itemsOf(tokens: readonly CellToken[], context: CellContext): readonly CellItem[] {
  const { parse, meter } = context;
  const asBeats = symbolsOf(tokens, parse, false);
  if (!asBeats.some((item) => item.kind === 'slash')) return asBeats;
  if (fillsBar(readPlaces(asBeats, context, parse, silent), meter)) return asBeats;
  const asBass = symbolsOf(tokens, parse, true);
  const isRead = asBass.every((item) => item.kind !== 'symbol' || parse(item.text).kind !== 'refused');
  const read = readPlaces(asBass, context, parse, silent);
  return isRead && (!read.byBeat || fillsBar(read, meter)) ? asBass : asBeats;
}

/** The bars that stand between two bar lines: one, or two for a two-bar simile. */
export function readCell(tokens: readonly CellToken[], context: CellContext): readonly CellBar[] {
  const { meter, pickup, parse, problems, span } = context;
  const [first] = tokens;
  const simile = first === undefined ? undefined : simileOf(first);
  if (simile !== undefined && tokens.length === 1) return simileBars(simile, context);
  const words = withBeats(tokens, context).filter((token) => {
    if (simileOf(token) === undefined) return true;
    problems.add('simile-in-bar', token.span);
    return false;
  });
  const items = itemsOf(words, context);
  const read = readPlaces(items, context, parse, problems);
  const isOnlySlashes = items.every(({ kind }) => kind === 'slash' || kind === 'dot');
  if (isOnlySlashes && context.previous === undefined) problems.add('chord-missing', span);
  const { pickupBeats } = context;
  const pickupTicks =
    pickupBeats === undefined ? undefined : Math.max(Math.round(pickupBeats * beatTicks(meter)), 1);
  const chords = layOut(read, meter, pickup, context.previous ?? null, problems, pickupTicks);
  return [{ chords, simile: null, bracket: read.bracket }];
}
