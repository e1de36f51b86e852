// A list of bars whose lines are numbered 1. 2. 3., as pages and letters number them: the numbers are not endings. One line
// alone does not tell which it is, so the whole text decides.
import type { Span } from './types';

/** A number before a chord; one before a bar line counts bars. */
const number = /^( *)(\d{1,3})(?:[.)]|(?= ))(?= *[\p{L}(%])/u;
/** What only a form with repeats has: repeat signs, brackets of endings, numbers of endings behind a bar line. */
const signOfRepeats =
  /[:𝄆𝄇] ?[|‖𝄀-𝄅]|[|‖𝄀-𝄅] ?[:𝄆𝄇]|::|[𝄆𝄇]|\[ ?\d|\| ?\d{1,2}(?:[.)]|st|nd|rd|th)? ?[,A-Ga-gN(-]/u;
const fewest = 3;

/** Where the numbers of a list stand, in order; none when the lines are no such list. */
function numbersOf(lines: readonly string[]): readonly Span[] {
  const bars = lines.flatMap((line, index) => (line.includes('|') ? [index] : []));
  const found = bars.flatMap((index, place): Span[] => {
    const match = number.exec(lines[index]!);
    if (match === null || Number(match[2]) !== place + 1) return [];
    return [{ line: index + 1, column: match[1]!.length + 1, length: match[0].length - match[1]!.length }];
  });
  const isList = found.length >= fewest && found.length === bars.length;
  return isList && !lines.some((line) => signOfRepeats.test(line)) ? found : [];
}

/** The lines with blanks for the numbers of a list, and where those stood; every place stays where it was. */
export function withoutNumbers(lines: readonly string[]): {
  readonly lines: readonly string[];
  readonly numbers: readonly Span[];
} {
  const numbers = numbersOf(lines);
  const rest = [...lines];
  for (const { line, column, length } of numbers) {
    const text = rest[line - 1]!;
    rest[line - 1] = text.slice(0, column - 1) + ' '.repeat(length) + text.slice(column - 1 + length);
  }
  return { lines: rest, numbers };
}
