// Text to lines: of the heading, or of tokens.
import { lineBreak, plainLines } from './characters';
import { withoutNumbers } from './numbered';
import { isLetterOfSection, withoutPage } from './pasted';
import { isBarGlyph, LineScanner } from './scanner';
import type { ChartLine, HeaderField, LabelToken } from './tokens';
import type { Span } from './types';
import { withBarLines } from './unbarred';
import { passesNamed, isSectionName } from './words';

const headerFields: ReadonlyMap<string, HeaderField> = new Map([
  ['title', 'title'],
  ['key', 'key'],
  ['meter', 'meter'],
  ['metre', 'meter'],
  ['time', 'meter'],
  ['tempo', 'tempo'],
  ['feel', 'feel'],
  ['style', 'feel'],
  ['form', 'form'],
  ['parts', 'form'],
]);

/** A name and a colon that is not part of a repeat sign: `A: | C7` is a label, `C7 :|` and `C7: |` are not. */
const nameColon = /^( *)([\p{L}][\p{L} ]{0,23}\d?)(?: *:(?! ?[:|])|(?<!\d):(?= \|(?![:|])))/u;
/** ABC's part field, kept because text is pasted from there: an order before the bars, a label among them. */
const isPartField = (name: string): boolean => name === 'P';

function classify(text: string, line: number, barsBegun: boolean): ChartLine | undefined {
  // A number before the first bar line of a line counts bars; it is no part of the music.
  const start = /^ *(?:\d{1,4}[.)]? *(?=\|))?/u.exec(text)![0].length;
  if (start === text.length || text[start] === '#') return undefined;
  const span: Span = { line, column: start + 1, length: text.trimEnd().length - start };
  const ending = /^ *([\p{L}\d]{3,6} (?:ending|time)) *:?(?= *(?:$|[^ ]))/iu.exec(text);
  const passes = ending === null ? undefined : passesNamed(ending[1]!);
  if (ending !== null && passes !== undefined) return endingLine(text, line, ending[0].length, passes, span);
  const named = nameColon.exec(text);
  if (named === null) return barsLine(text, line, start, span, undefined);
  const name = named[2]!.trimEnd();
  const rest = text.slice(named[0].length);
  const value = rest.trim();
  const column = named[0].length + Math.max(rest.search(/[^ ]/u), 0) + 1;
  const valueSpan: Span = { line, column, length: Math.max(value.length, 1) };
  const partOrder = isPartField(name) && !barsBegun && value.length > 1 && !isBarGlyph.test(value);
  const field = partOrder ? 'form' : headerFields.get(name.toLowerCase());
  if (field !== undefined) return { kind: 'header', field, value, span, valueSpan };
  if (isPartField(name)) return partLine(text, line, named[0].length, span);
  const looksLikeLabel = value === '' || isBarGlyph.test(value) || name.length <= 2 || isSectionName(name);
  if (!looksLikeLabel) return { kind: 'unknown header', name, span };
  const label: LabelToken = {
    kind: 'label',
    text: name,
    sure: true,
    span: { line, column: start + 1, length: name.length },
  };
  return barsLine(text, line, named[0].length, span, label);
}

/** `P:A | C6 |`: the word after the colon is the label. */
function partLine(text: string, line: number, at: number, span: Span): ChartLine {
  const name = /^ *([^ |]{1,24})/u.exec(text.slice(at));
  if (name === null) return barsLine(text, line, at, span, undefined);
  const column = at + name[0].length - name[1]!.length + 1;
  const label: LabelToken = {
    kind: 'label',
    text: name[1]!,
    sure: true,
    span: { line, column, length: name[1]!.length },
  };
  return barsLine(text, line, at + name[0].length, span, label);
}

/** "1st ending: Dm7 | G7": an ending called by its name. */
function endingLine(
  text: string,
  line: number,
  at: number,
  passes: readonly number[],
  span: Span,
): ChartLine {
  const scanner = new LineScanner(text, line, at);
  scanner.tokens.push({ kind: 'ending', passes, span: { ...span, length: at - span.column + 1 } });
  scanner.scan();
  const { tokens, hasBarLine } = scanner;
  return { kind: 'bars', tokens, text: text.trim(), hasBarLine, span };
}

function barsLine(
  text: string,
  line: number,
  start: number,
  span: Span,
  label: LabelToken | undefined,
): ChartLine {
  const scanner = new LineScanner(text, line, start);
  if (label !== undefined) scanner.tokens.push(label);
  scanner.scan();
  const { tokens, hasBarLine } = scanner;
  return { kind: 'bars', tokens, text: text.trim(), hasBarLine, span };
}

/** A letter alone on its line, which names a section. */
function letterLine(line: string, number: number): ChartLine {
  const text = line.trim();
  const span: Span = { line: number, column: line.indexOf(text) + 1, length: text.length };
  const label: LabelToken = { kind: 'label', text, sure: true, guessed: true, span };
  return { kind: 'bars', tokens: [label], text, hasBarLine: false, span };
}

/** The lines that say something, in order. Linear in the length of the text. */
export function lex(text: string): readonly ChartLine[] {
  const lines: ChartLine[] = [];
  let barsBegun = false;
  const { lines: written, places } = withBarLines(plainLines(text), text.split(lineBreak));
  const { lines: plain, numbers } = withoutNumbers(withoutPage(written));
  const [first] = numbers;
  if (first) lines.push({ kind: 'list', count: numbers.length, span: first });
  for (const span of places) lines.push({ kind: 'guessed bars', span });
  plain.forEach((line, index) => {
    const read = isLetterOfSection(plain, index, barsBegun)
      ? letterLine(line, index + 1)
      : classify(line, index + 1, barsBegun);
    if (read === undefined) return;
    lines.push(read);
    barsBegun ||= read.kind === 'bars' && read.hasBarLine;
  });
  return lines;
}
