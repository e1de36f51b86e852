// One line of text to tokens. Every token knows its place; nothing here knows what a chord is.
import type { EndingToken, ChartToken } from './tokens';
import type { Span } from './types';
import { passesNamed } from './words';

const barGlyphs = '|‖∥𝄀𝄁𝄂𝄃𝄄𝄅𝄆𝄇';
const barLine = new RegExp(`\\[?[:${barGlyphs}]{1,12}\\]?`, 'uy');
export const isBarGlyph = new RegExp(`[${barGlyphs}]`, 'u');
const word = new RegExp(`[^ :;[\\]{}${barGlyphs}]+`, 'uy');
/** Numbers of passes: "1", "1,3", "1-3", "1. 2."; not a meter, not a count of times. */
const passNumbers = /(\d{1,2}(?:\.?[,.\u2013-] ?\d{1,2}){0,15})(?:st|nd|rd|th)?[.)]?(?![\d/x×,.\u2013-])/iuy;
const mostPasses = 99;

/** "1,3" to [1, 3], "1-3" to [1, 2, 3]; undefined when there is nothing sensible in it. */
export function readPasses(text: string): readonly number[] | undefined {
  const passes = new Set<number>();
  for (const part of text.replaceAll(/\.(?=[\u2013-])/gu, '').split(/\.?[,.] ?/u)) {
    const [from, to = from] = part.split(/[\u2013-] ?/u).map(Number);
    if (from === undefined || to === undefined || from < 1 || to < from || to > mostPasses) return undefined;
    for (let pass = from; pass <= to; pass += 1) passes.add(pass);
  }
  return [...passes].sort((a, b) => a - b);
}

/** Scans one line. */
export class LineScanner {
  readonly tokens: ChartToken[] = [];
  hasBarLine = false;
  private at: number;

  constructor(
    private readonly text: string,
    private readonly line: number,
    start: number,
  ) {
    this.at = start;
  }

  scan(): void {
    while (this.at < this.text.length) {
      if (this.text[this.at] === ' ') this.at += 1;
      else this.next();
    }
  }

  private span(length: number): Span {
    return { line: this.line, column: this.at + 1, length };
  }

  private matched(pattern: RegExp, at: number): RegExpExecArray | null {
    pattern.lastIndex = at;
    return pattern.exec(this.text);
  }

  private push(token: ChartToken): void {
    this.tokens.push(token);
    this.at += token.span.length;
  }

  private next(): void {
    const found = this.barLineAt() ?? this.bracketAt() ?? this.wordAt();
    if (found !== undefined) {
      this.push(found);
      return;
    }
    const sign = this.text[this.at]!;
    if (sign === ';')
      this.push({ kind: 'alternate', apart: this.text[this.at + 1] === ' ', span: this.span(1) });
    else this.push({ kind: 'stray', text: sign, span: this.span(1) });
  }

  private barLineAt(): ChartToken | undefined {
    const match = this.matched(barLine, this.at);
    if (match === null) return undefined;
    let sign = match[0];
    if (!isBarGlyph.test(sign) && !/^\[?::/u.test(sign)) return this.loneColon(sign);
    // A colon set apart by one blank still belongs to the bar line.
    if (/^ :(?![:|])/u.test(this.text.slice(this.at + sign.length, this.at + sign.length + 3))) sign += ' :';
    this.hasBarLine = true;
    const glyphs = sign.replaceAll(/[[\] ]/gu, '');
    const bars = [...glyphs].filter((glyph) => glyph !== ':');
    const colonInside = /[^:]:+[^:]/u.test(glyphs);
    const repeatEnd = glyphs.startsWith(':') || glyphs.startsWith('𝄇') || colonInside;
    const repeatStart = glyphs.endsWith(':') || glyphs.endsWith('𝄆') || colonInside;
    const colons = colonInside ? 0 : /^:*/u.exec(glyphs)![0].length;
    const isDouble = bars.length > 1 || /[‖∥𝄁𝄂𝄃\]]/u.test(sign);
    return {
      kind: 'bar line',
      repeatEnd,
      repeatStart,
      double: isDouble && !repeatEnd && !repeatStart,
      ...(colons > 1 && bars.length > 0 ? { times: colons + 1 } : {}),
      span: this.span(sign.length),
    };
  }

  /** `: |` is a repeat end typed wide; any other colon by itself is a stray. */
  private loneColon(sign: string): ChartToken | undefined {
    if (sign !== ':') return undefined;
    const rest = /^: (\|\]?)(?![:|])/u.exec(this.text.slice(this.at, this.at + 5));
    if (rest === null) return undefined;
    this.hasBarLine = true;
    return {
      kind: 'bar line',
      repeatEnd: true,
      repeatStart: false,
      double: false,
      span: this.span(rest[0].length),
    };
  }

  private bracketAt(): ChartToken | undefined {
    const open = this.text[this.at];
    const close = open === '[' ? ']' : open === '{' ? '}' : undefined;
    if (close === undefined) return undefined;
    const end = this.text.slice(this.at, this.at + 48).indexOf(close);
    const inside = this.text.slice(this.at + 1, this.at + Math.max(end, 0));
    if (end < 0 || isBarGlyph.test(inside) || /[[{]/.test(inside)) {
      return open === '[' ? this.endingAt(this.at + 1) : undefined;
    }
    const span = this.span(end + 1);
    const passes = open === '[' ? passesNamed(inside) : undefined;
    if (passes !== undefined) return { kind: 'ending', passes, span };
    return open === '['
      ? { kind: 'label', text: inside.trim(), sure: false, span }
      : { kind: 'directive', text: inside.trim(), span };
  }

  private wordAt(): ChartToken | undefined {
    const previous = this.tokens.at(-1);
    const opensLine = previous === undefined && this.text.includes('|', this.at);
    if (previous?.kind === 'bar line' || opensLine) {
      const tight = previous !== undefined && previous.span.column + previous.span.length === this.at + 1;
      const ending = this.endingAt(this.at);
      // A number apart from the bar line is an ending only when a chord follows it in the bar.
      if (ending !== undefined && (tight || /^ *[A-Ga-gNn(]/u.test(this.after(ending)))) return ending;
    }
    const match = this.matched(word, this.at);
    if (match === null) return undefined;
    return { kind: 'word', text: match[0], span: this.span(match[0].length) };
  }

  private after(token: ChartToken): string {
    const end = token.span.column - 1 + token.span.length;
    return this.text.slice(end, end + 8);
  }

  private endingAt(at: number): EndingToken | undefined {
    const match = this.matched(passNumbers, at);
    if (match === null) return undefined;
    const end = at + match[0].length;
    // Nothing after it in the bar: not an ending but a digit nobody can read.
    if (/^ *(?:$|[:\]]|\|(?!\|?:))/u.test(this.text.slice(end, end + 8))) return undefined;
    const passes = readPasses(match[1]!);
    return passes && { kind: 'ending', passes, span: this.span(end - this.at) };
  }
}
