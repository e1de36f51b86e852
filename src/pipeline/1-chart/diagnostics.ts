// Problems: a code, a place and a plain sentence, all sentences from the two catalogues of words.
import chartWords from '../../../shared/words/chart-problems.json' with { type: 'json' };
import chordWords from '../../../shared/words/chord-problems.json' with { type: 'json' };
import { severities, type Problem, type Severity, type Span } from './types';

export type ProblemValues = Readonly<Record<string, string | number>>;
export type ChartProblemCode = keyof typeof chartWords;

interface Entry {
  readonly severity: string;
  readonly message: string;
}
const catalogue: ReadonlyMap<string, Entry> = new Map(
  Object.entries<Entry>({ ...chordWords, ...chartWords }),
);

const mostProblems = 100;
const longestQuote = 24;

/** What somebody typed, short enough for a sentence. */
export const quoted = (text: string): string =>
  text.length <= longestQuote ? text : `${text.slice(0, longestQuote)}…`;

const isSeverity = (word: string): word is Severity => (severities as readonly string[]).includes(word);

/** A problem from the catalogue; an unknown code speaks for itself. */
export function problem(code: string, span: Span, values: ProblemValues = {}): Problem {
  const entry = catalogue.get(code) ?? { severity: 'error', message: code };
  const message = entry.message.replace(/\{(\w+)\}/g, (whole, name: string) =>
    name in values ? quoted(String(values[name])) : whole,
  );
  const severity = isSeverity(entry.severity) ? entry.severity : 'error';
  return { code, severity, message, line: span.line, column: span.column, length: span.length };
}

/** Collects problems while a text is read. */
export interface Diagnostics {
  readonly add: (code: ChartProblemCode, span: Span, values?: ProblemValues) => void;
  /** For codes of the chord reader. */
  readonly addChord: (code: string, span: Span, values?: ProblemValues) => void;
  /** In order of place; beyond a hundred only their number is told. */
  readonly list: () => readonly Problem[];
}

const byPlace = (a: Problem, b: Problem): number => a.line - b.line || a.column - b.column;

/** An empty collection. */
export function diagnostics(): Diagnostics {
  const found: Problem[] = [];
  let left = 0;
  const addChord = (code: string, span: Span, values: ProblemValues = {}): void => {
    if (found.length < mostProblems) found.push(problem(code, span, values));
    else left += 1;
  };
  const list = (): readonly Problem[] => {
    const sorted = [...found].sort(byPlace);
    const last = sorted.at(-1);
    if (left === 0 || last === undefined) return sorted;
    return [...sorted, problem('problems-many', last, { count: left })];
  };
  return { add: addChord, addChord, list };
}
