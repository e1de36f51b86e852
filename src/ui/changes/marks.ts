// The chart text cut into stretches with and without a mark, so that faults can be underlined where they stand.
import type { Problem, Severity } from '../../pipeline';

export interface Stretch {
  readonly text: string;
  /** Null for a stretch without a remark. */
  readonly severity: Severity | null;
}

const weight: Readonly<Record<Severity, number>> = { error: 3, warning: 2, note: 1 };

/** Offset in the text of the start of every line. */
function lineStarts(text: string): number[] {
  const starts = [0];
  for (let i = text.indexOf('\n'); i >= 0; i = text.indexOf('\n', i + 1)) starts.push(i + 1);
  return starts;
}

/** Where a remark stands in the text, as offsets; a place outside the text is brought to its end. */
export function offsetsOf(
  text: string,
  place: Pick<Problem, 'line' | 'column' | 'length'>,
): readonly [from: number, to: number] {
  const starts = lineStarts(text);
  const line = Math.min(Math.max(1, place.line), starts.length);
  const end = (starts[line] ?? text.length + 1) - 1;
  const from = Math.min((starts[line - 1] ?? 0) + Math.max(0, place.column - 1), end);
  return [from, Math.min(end, from + Math.max(1, place.length))];
}

/** The text in stretches; together they are the whole text. Where remarks overlap the graver one shows. */
export function stretchesOf(text: string, problems: readonly Problem[]): readonly Stretch[] {
  const marks = problems.map((problem) => ({ problem, range: offsetsOf(text, problem) }));
  const cuts = new Set([0, text.length]);
  for (const { range } of marks) for (const cut of range) cuts.add(cut);
  const places = [...cuts].sort((a, b) => a - b);
  return places.slice(0, -1).map((from, i) => {
    const here = marks
      .filter(({ range }) => range[0] <= from && from < range[1])
      .map(({ problem }) => problem.severity);
    const gravest = here.sort((a, b) => weight[b] - weight[a])[0] ?? null;
    return { text: text.slice(from, places[i + 1]), severity: gravest };
  });
}

/** The gravest remark of every line, by line number from 1. */
export function lineMarks(problems: readonly Problem[]): ReadonlyMap<number, Severity> {
  const marks = new Map<number, Severity>();
  for (const { line, severity } of problems) {
    const before = marks.get(line);
    if (!before || weight[severity] > weight[before]) marks.set(line, severity);
  }
  return marks;
}
