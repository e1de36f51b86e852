// What went wrong while a file was read, with its place and the number of the bar.
import words from '../../../../shared/words/import-problems.json' with { type: 'json' };
import type { Remark } from '../../../music';
import { problem as chordProblem, type ProblemValues } from '../diagnostics';
import { severities, type Problem, type Severity, type Span } from '../types';

export type ImportProblemCode = keyof typeof words;

export const wholeFile: Span = { line: 1, column: 1, length: 1 };

const mostProblems = 100;
const longestQuote = 60;
/** Names of parts are what is asked for. */
const longestList = 400;

const severityOf = (word: string): Severity => severities.find((one) => one === word) ?? 'error';

/** A problem from the catalogue of this folder. */
export function importProblem(
  code: ImportProblemCode,
  { line, column, length }: Span,
  values: ProblemValues = {},
): Problem {
  const { severity, message } = words[code];
  const filled = message.replace(/\{(\w+)\}/g, (whole, name: string) => {
    const value = values[name];
    return value === undefined
      ? whole
      : String(value).slice(0, name === 'parts' ? longestList : longestQuote);
  });
  return { code, severity: severityOf(severity), message: filled, line, column, length };
}

/** Collects problems while a file is read. */
export interface ImportProblems {
  add(code: ImportProblemCode, span: Span, values?: ProblemValues): void;
  /** What the chord reader said of a symbol that it read, or why it refused it. */
  addRemark(remark: Remark, span: Span): void;
  /** The same problem again is told once. */
  addOnce(code: ImportProblemCode, span: Span, values?: ProblemValues): void;
  /** Takes over what another part of the chart reader has found. */
  take(problems: readonly Problem[]): void;
  /** In the order in which they were found; beyond a hundred only their number is told. */
  list(): readonly Problem[];
}

export function importProblems(): ImportProblems {
  const found: Problem[] = [];
  const told = new Set<string>();
  let left = 0;
  const push = (one: Problem): void => {
    if (found.length < mostProblems) found.push(one);
    else left += 1;
  };
  return {
    add: (code, span, values) => push(importProblem(code, span, values)),
    addRemark: ({ code, values }, span) => push(chordProblem(code, span, values)),
    addOnce: (code, span, values) => {
      if (told.has(code)) return;
      told.add(code);
      push(importProblem(code, span, values));
    },
    take: (problems) => problems.forEach(push),
    list: () =>
      left === 0 ? found : [...found, importProblem('problems-many', found.at(-1)!, { count: left })],
  };
}
