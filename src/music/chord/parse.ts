// Reads a chord symbol: what is around it, its bass, its root, then the grammar of the rest.
import vocabulary from '../../../shared/chords/vocabulary.json' with { type: 'json' };
import type { NoteName } from '../tonal';
import type { Chord, ChordReading, Remark } from '../types';
import { assembleChord } from './assemble';
import { isSignAt, plainText, type PlainText } from './characters';
import { readSuffix, type SuffixReading } from './grammar';
import { tokenise, type Token } from './lexer';
import { bareNoteName, readRoot, type RootReading } from './root';

/** Longer texts are not chord symbols. */
export const longestSymbol = 100;

const noChordSpellings = new Set(vocabulary.noChord.spellings);
const closings: Readonly<Record<string, string>> = { '(': ')', '[': ']', '{': '}' };
const plainWords = new Set([...vocabulary.plainWords.words, ...vocabulary.plainWords.capitalised]);
const rareRoots = new Set(['Cb', 'Fb', 'E#', 'B#']);

interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** Leaves out blanks around a stretch, and the commas, stops, question marks and stars after it. */
function trim(text: string, { from, to }: Stretch): Stretch {
  let start = from;
  let end = to;
  while (start < end && text[start] === ' ') start += 1;
  while (end > start && ' ,;.?!*'.includes(text[end - 1]!)) end -= 1;
  return { from: start, to: end };
}

/** The inside of a bracket around the whole stretch, or null. */
function unwrap(text: string, { from, to }: Stretch): Stretch | null {
  if (to - from < 2 || closings[text[from]!] !== text[to - 1]) return null;
  let depth = 0;
  for (let place = from; place < to - 1; place += 1) {
    if ('([{'.includes(text[place]!)) depth += 1;
    if (')]}'.includes(text[place]!)) depth -= 1;
    if (depth === 0) return null;
  }
  return { from: from + 1, to: to - 1 };
}

class SymbolReader {
  private readonly plain: PlainText;

  constructor(private readonly typed: string) {
    this.plain = plainText(typed);
  }

  private place(start: number, end: number): { at: number; length: number } {
    const at = this.plain.at[Math.min(start, this.plain.text.length)]!;
    return { at, length: Math.max(0, this.plain.at[Math.min(end, this.plain.text.length)]! - at) };
  }

  private remark(code: string, start: number, end: number, values: Record<string, string> = {}): Remark {
    return { code, ...this.place(start, end), values: { symbol: this.typed.trim(), ...values } };
  }

  private refuse(
    code: string,
    start: number,
    end: number,
    values: Record<string, string> = {},
  ): ChordReading {
    return { kind: 'refused', ...this.remark(code, start, end, values) };
  }

  read(): ChordReading {
    const { text } = this.plain;
    let body = trim(text, { from: 0, to: text.length });
    const isUncertain = text.slice(body.to).includes('?');
    let optional = false;
    for (let inside = unwrap(text, body); inside !== null; inside = unwrap(text, body)) {
      body = trim(text, inside);
      optional = true;
    }
    const { from, to } = body;
    if (from >= to) return this.refuse('chord-empty', 0, text.length);
    if (noChordSpellings.has(text.slice(from, to).replace(/[ ./]/g, '').toLowerCase()))
      return { kind: 'no chord' };
    if (plainWords.has(text.slice(from, to))) return this.refuse('chord-not-a-chord', from, to);
    const german = /[/\\] *h(?:[#b]|is|es)?$/i.exec(text.slice(from, to));
    if (german) {
      const at = from + german.index + german[0].search(/h/i);
      return this.refuse('chord-german-h', at, at + 1, { instead: 'B' });
    }
    const slash = this.findBass(body);
    if (slash?.body.to === from) return { kind: 'bass only', bass: slash.bass };
    const chordBody = slash?.body ?? body;
    const isSign = isSignAt(this.typed, this.plain, from);
    const root = isSign ? null : readRoot(text.slice(0, chordBody.to), from);
    if (root === 'triple') return this.refuse('chord-root-accidentals', from, to);
    if (root === null) return this.refuseRootless(body);
    const tokens = tokenise(text.slice(0, chordBody.to), root.end);
    const suffix = readSuffix(tokens);
    if (suffix.refusal) return this.refuseSuffix(suffix.refusal, body, root, tokens);
    const chord = assembleChord(root.root, suffix.spec, slash?.bass ?? null, this.typed);
    const remarks = this.remarksOn(chord, root, suffix, tokens, body);
    if (isUncertain) remarks.push(this.remark('chord-uncertain', to, text.length, { reading: chord.symbol }));
    return { kind: 'chord', chord, optional, remarks };
  }

  /** The bass after the last slash, or after "over" or "on": only a bare note name counts. */
  private findBass({ from, to }: Stretch): { bass: NoteName; body: Stretch } | null {
    const text = this.plain.text.slice(0, to);
    const lower = text.toLowerCase();
    const breaks = [
      { place: Math.max(text.lastIndexOf('/'), text.lastIndexOf('\\')), length: 1 },
      { place: lower.lastIndexOf(' over '), length: 6 },
      { place: lower.lastIndexOf(' on '), length: 4 },
    ];
    for (const { place, length } of breaks) {
      if (place < from) continue;
      const bass = bareNoteName(text.slice(place + length));
      const letter = place + length + text.slice(place + length).search(/[^ ]/);
      if (bass === null || isSignAt(this.typed, this.plain, letter)) continue;
      const body = trim(text, { from, to: place });
      const tail = text.slice(place).replace(/[^)\]}]/g, '').length;
      // "C7(/E)": the bracket that closes after the bass was opened before the slash.
      const isOpenBefore = tail === 1 && '([{'.includes(text[body.to - 1] ?? ' ');
      if (tail > 0 && !isOpenBefore) continue;
      return { bass, body: isOpenBefore ? trim(text, { from, to: body.to - 1 }) : body };
    }
    return null;
  }

  private refuseRootless({ from, to }: Stretch): ChordReading {
    const { text } = this.plain;
    const body = text.slice(from, to);
    const first = body[0]!;
    // "h7" alone may be a half-diminished chord without its root.
    const isGerman = /^H/.test(body) || /^h(?!\d)/.test(body);
    const suffix = body.slice(1).replace(/[/\\][A-G][#b]?$/i, '');
    if (isGerman && readSuffix(tokenise(suffix)).refusal === null) {
      return this.refuse('chord-german-h', from, from + 1, { instead: `B${body.slice(1)}` });
    }
    if (/^[%|:\-/?*_= ]+$/.test(body)) return this.refuse('chord-sign', from, to);
    const { refusal, isOpen } = readSuffix(tokenise(body));
    const isSuffix = refusal === null && !isOpen;
    const example = !isSuffix ? 'C7' : /^[b#]/.test(body) ? `C(${body})` : `C${body}`;
    const isWord = !isSuffix && /[a-z]/i.test(first);
    return this.refuse(isWord ? 'chord-not-a-chord' : 'chord-no-root', from, to, { example });
  }

  private refuseSuffix(
    refusal: NonNullable<SuffixReading['refusal']>,
    body: Stretch,
    root: RootReading,
    tokens: readonly Token[],
  ): ChordReading {
    const { text } = this.plain;
    const start = refusal.token?.start ?? body.to;
    const whole = text.slice(body.from, body.to);
    const values = { part: text.slice(start, Math.min(body.to, start + 12)), root: root.root };
    if (/^[A-Z][0-9]$/.test(whole)) return this.refuse('chord-section-label', body.from, body.to, values);
    // "add9", "dim7", "alt7" begin with a letter that is no root there.
    if (/^[a-g]/.test(whole) && readSuffix(tokenise(whole)).refusal === null) {
      return this.refuse('chord-no-root', body.from, body.to, { example: `C${whole}` });
    }
    const before = tokens.findLast((token) => token.end <= start && token.kind !== 'blank');
    if (before?.kind === 'slash' && refusal.token?.kind !== 'blank') {
      if (/^h/i.test(values.part)) return this.refuse('chord-german-h', start, start + 1, { instead: 'B' });
      if (/^[a-g]/i.test(values.part)) return this.refuse('chord-bass', start, body.to, values);
    }
    if (root.end === start && text[start] === 'B') {
      const instead = `${text[body.from]!.toUpperCase()}b${text.slice(start + 1, body.to)}`;
      return this.refuse('chord-capital-flat', start, start + 1, { instead });
    }
    // A word, unless reading stopped at a sign or a number in it.
    const isWord = start === root.end ? /[a-z]/i.test(text[start] ?? '') : /^[a-z]{3,}(?: |$)/i.test(whole);
    if (isWord && refusal.fault === 'chord-unknown') {
      return this.refuse('chord-not-a-chord', body.from, body.to, values);
    }
    return this.refuse(refusal.fault, start, refusal.token?.end ?? body.to, values);
  }

  private remarksOn(
    chord: Chord,
    root: RootReading,
    suffix: SuffixReading,
    tokens: readonly Token[],
    { from, to }: Stretch,
  ): Remark[] {
    const remarks = root.doubts.map((code) =>
      this.remark(code, from, root.end, {
        reading: chord.symbol,
        root: chord.root,
        other: `${chord.root}${chord.root.slice(1)}`,
      }),
    );
    if (suffix.isBareTriangle)
      remarks.push(this.remark('chord-triangle', root.end, to, { reading: chord.symbol }));
    if (suffix.isOpen)
      remarks.push(this.remark('chord-bracket-open', root.end, to, { reading: chord.symbol }));
    const first = tokens[0];
    if (chord.root.length === 2 && root.doubts.length === 0 && first?.kind === 'number') {
      const isSharp = chord.root[1] === '#';
      const isShared = [5, 9, 11, 13].includes(first.number) && rareRoots.has(chord.root);
      if (isShared || (isSharp && (first.number === 5 || first.number === 11))) {
        const [letter, sign] = [chord.root[0]!, chord.root[1]!];
        remarks.push(
          this.remark('chord-root-or-alteration', from, first.end, {
            root: chord.root,
            other: `${letter}(${sign}${first.number})`,
          }),
        );
      }
    }
    return remarks;
  }
}

/**
 * Reads a chord symbol as jazz musicians write them. Never throws and takes time linear in the length. Refused texts
 * come with the place at which reading stopped; uncertain ones are read the likely way, with a remark. The sentence
 * for each code is in shared/words/chord-problems.json.
 */
export function parseChord(text: string): ChordReading {
  if (text.length > longestSymbol) {
    const symbol = `${text.slice(0, 20).trim()}…`;
    return {
      kind: 'refused',
      code: 'chord-too-long',
      at: longestSymbol,
      length: text.length - longestSymbol,
      values: { symbol },
    };
  }
  return new SymbolReader(text).read();
}

/**
 * The chord of a symbol known to be right.
 * @throws RangeError when it is not a chord
 */
export function makeChord(symbol: string): Chord {
  const reading = parseChord(symbol);
  if (reading.kind !== 'chord') throw new RangeError(`not a chord: ${symbol}`);
  return reading.chord;
}

/** The symbol in our own spelling; reading it gives the same chord. */
export const printChord = (chord: Chord): string => chord.symbol;
