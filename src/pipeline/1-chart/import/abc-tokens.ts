// The music of one ABC line as tokens. Source: ABC notation 2.1, section 4.
import type { Span } from '../types';
import { readAbcPitch, type AbcPitch } from './abc-line';

interface Placed {
  readonly span: Span;
}

export type AbcToken = Placed &
  (
    | { readonly kind: 'text'; readonly text: string }
    | { readonly kind: 'field'; readonly letter: string; readonly value: string }
    | {
        readonly kind: 'bar line';
        /** How often the stretch before is played; 0 when it is not repeated. */
        readonly times: number;
        readonly repeatStart: boolean;
        readonly double: boolean;
      }
    | { readonly kind: 'ending'; readonly numbers: string }
    | { readonly kind: 'decoration'; readonly name: string }
    | {
        readonly kind: 'tuplet';
        readonly notes: number;
        readonly inTimeOf: number | null;
        readonly count: number;
      }
    /** A note, a chord of notes or a rest, in units; `inside` are the texts within a chord of notes. */
    | {
        readonly kind: 'note';
        readonly units: number;
        readonly inside: readonly string[];
        /** None for a rest. */
        readonly pitches: readonly AbcPitch[];
      }
    | { readonly kind: 'tie' }
    | { readonly kind: 'bars of rest'; readonly bars: number }
    /** Positive for `>`, negative for `<`. */
    | { readonly kind: 'broken'; readonly strokes: number }
    | { readonly kind: 'overlay' }
    | { readonly kind: 'open quote' }
    | { readonly kind: 'stray'; readonly text: string }
  );

const length = String.raw`(\d{0,4})(\/{0,4})(\d{0,4})`;
const pitch = String.raw`(?:\^{1,2}|_{1,2}|=)?[A-Ga-g][,']*`;

/** Each kind by the text it starts with; the first that fits wins. Every pattern takes at least one character. */
const patterns = {
  tie: /-/y,
  blank: /[\s`$*;?@#\\]+/y,
  text: /"((?:[^"\\]|\\.)*)"/y,
  openQuote: /".*/y,
  field: /\[([A-Za-z]):([^\]]{0,500})\]/y,
  ending: /\[(\d{1,2}(?:[,-]\d{1,2}){0,20})|\["(\d{1,2}(?:[,-]\d{1,2}){0,20})\.?"/y,
  barLine: /(:*)(\[?)\|([\]|]*)(:*)|::+/y,
  decoration: /!([^!|[\]]{1,40})!|\+([^+|[\]]{1,40})\+/y,
  grace: /\{[^}]{0,500}\}/y,
  tuplet: /\((\d)(?::(\d?)(?::(\d{0,2}))?)?/y,
  chord: new RegExp(String.raw`\[((?:"[^"]{0,100}"|[^\]"|]){0,100})\]${length}`, 'y'),
  note: new RegExp(String.raw`(?:${pitch}|[zx])${length}`, 'y'),
  barsOfRest: /[ZX](\d{0,3})/y,
  spacer: /y\d*/y,
  broken: />{1,3}|<{1,3}/y,
  overlay: /&+/y,
  sign: /[SO]/y,
  mark: /[()~.H-NP-RT-Wh-w]/y,
} as const;

const signNames: Readonly<Record<string, string>> = { S: 'segno', O: 'coda' };

/** "3/2", "/", "//", "4"; as a number of units. */
function unitsOf(numerator: string, slashes: string, denominator: string): number {
  const top = numerator === '' ? 1 : Number(numerator);
  if (slashes === '') return top;
  const bottom = denominator === '' ? 2 ** slashes.length : Number(denominator);
  return bottom > 0 ? top / bottom : 0;
}

const noteInside = new RegExp(`(?:${pitch}|[zx])${length}`);

/** A chord of notes lasts as its first note, times what stands behind the bracket. */
function chordUnits(inside: string, outside: number): number {
  const first = noteInside.exec(inside.replace(/"[^"]*"/g, ''));
  return (first ? unitsOf(first[1]!, first[2]!, first[3]!) : 1) * outside;
}

const pitchInside = new RegExp(pitch, 'g');

/** The pitches within the brackets of a chord of notes, or of one note. */
const pitchesIn = (text: string): readonly AbcPitch[] =>
  [...text.replace(/"[^"]*"|![^!]*!/g, '').matchAll(pitchInside)].flatMap(([one]) => readAbcPitch(one) ?? []);

/** Which kinds to try, in order. */
const order = Object.keys(patterns) as (keyof typeof patterns)[];

type Unplaced<Token> = Token extends AbcToken ? Omit<Token, 'span'> : never;

function tokenOf(kind: keyof typeof patterns, match: RegExpExecArray): Unplaced<AbcToken> | null {
  const [whole, a = '', b = '', c = '', d = ''] = match;
  switch (kind) {
    case 'text':
      return { kind: 'text', text: a.replace(/\\(.)/g, '$1') };
    case 'openQuote':
      return { kind: 'open quote' };
    case 'field':
      return { kind: 'field', letter: a, value: b.trim() };
    case 'ending':
      return { kind: 'ending', numbers: a || b };
    case 'barLine': {
      const isBoth = whole.startsWith('::') && !whole.includes('|');
      const closing = isBoth ? 1 : a.length;
      const strokes = (whole.match(/\|/g) ?? []).length;
      return {
        kind: 'bar line',
        times: closing === 0 ? 0 : closing + 1,
        repeatStart: isBoth || d !== '',
        double: strokes > 1 || b !== '' || c.includes(']'),
      };
    }
    case 'decoration':
      return { kind: 'decoration', name: a || b };
    case 'tuplet': {
      const notes = Number(a);
      if (notes < 2) return null;
      return {
        kind: 'tuplet',
        notes,
        inTimeOf: b === '' ? null : Number(b),
        count: c === '' ? notes : Number(c),
      };
    }
    case 'chord':
      return {
        kind: 'note',
        units: chordUnits(a, unitsOf(b, c, d)),
        inside: [...a.matchAll(/"([^"]*)"/g)].map((text) => text[1]!),
        pitches: pitchesIn(a),
      };
    case 'note':
      return { kind: 'note', units: unitsOf(a, b, c), inside: [], pitches: pitchesIn(whole) };
    case 'tie':
      return { kind: 'tie' };
    case 'barsOfRest':
      return { kind: 'bars of rest', bars: a === '' ? 1 : Number(a) };
    case 'broken':
      return { kind: 'broken', strokes: whole.startsWith('>') ? whole.length : -whole.length };
    case 'overlay':
      return { kind: 'overlay' };
    case 'sign':
      return { kind: 'decoration', name: signNames[whole]! };
    case 'blank':
    case 'grace':
    case 'spacer':
    case 'mark':
      return null;
  }
}

/** The tokens of a line of music. Linear in its length: brackets have a largest size. */
export function abcTokens(text: string, line: number): AbcToken[] {
  const tokens: AbcToken[] = [];
  let at = 0;
  const push = (token: Unplaced<AbcToken>, taken: number): void => {
    tokens.push({ ...token, span: { line, column: at + 1, length: taken } });
  };
  while (at < text.length) {
    let taken = 0;
    for (const kind of order) {
      const pattern = patterns[kind];
      pattern.lastIndex = at;
      const match = pattern.exec(text);
      if (match === null || match[0] === '') continue;
      taken = match[0].length;
      const token = tokenOf(kind, match);
      if (token) push(token, taken);
      break;
    }
    if (taken === 0) {
      taken = 1;
      push({ kind: 'stray', text: text[at]! }, 1);
    }
    at += taken;
    // "|1" is short for "| [1".
    const bare =
      tokens.at(-1)?.kind === 'bar line'
        ? /\s*(\d{1,2}(?:[,-]\d{1,2}){0,20})(?=[\s"[({^_=A-Ga-gxz!]|$)/y
        : null;
    if (bare === null) continue;
    bare.lastIndex = at;
    const numbers = bare.exec(text);
    if (numbers === null) continue;
    push({ kind: 'ending', numbers: numbers[1]! }, numbers[0].length);
    at += numbers[0].length;
  }
  return tokens;
}
