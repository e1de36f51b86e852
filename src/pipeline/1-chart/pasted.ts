// What surrounds a chart where it was copied from: marks of pages, letters and tables. Each becomes blanks, unit for unit,
// so that every place stays where the person sees it.
import { isRehearsalLetter, isSectionName } from './words';

const blanks = (text: string): string => ' '.repeat(text.length);

/** The line between the head of a table and its rows. */
const tableRule = (line: string): boolean =>
  /^[ |:+-]{3,300}$/u.test(line) && /-{3}|:-|-:/u.test(line) && !/^[ |:]*$/u.test(line);
/** The head of a table of bars: nothing but their numbers. */
const tableHead = (line: string): boolean => /^(?:[ |]|\bbars?\b|\bbeats?\b|\d){1,300}$/iu.test(line);
const fence = /^ *(?:`{3,}|~{3,})[ \w]*$/u;
/** Signs of quotation and of lists before the music of a line. */
const lead = /^(?: *>)+|^ *(?:[•‣◦▪●∙*]|[-–—](?= ))(?= *[|[(A-Ga-gN])/u;
/** Marks of emphasis, of code, of a sign that is to be taken literally; blanks and breaks of a page. */
const marks = /\*\*|__|`|\\(?=[|*_])|&nbsp;|<br ?\/?>|(?<= )[-–=]{1,2}>(?= )|[→⇒➔]/giu;
/** A remark after the last bar line: behind "#", or words behind "//". */
const remark = /(?<=[|\]] {0,8})(?:#(?= )[^|]{0,200}|\/\/ [^|\d]{0,200})$/u;
/** "2x:" before the bars it is for. */
const timesColon = /^( *\(?\d{1,2} ?[x×]\)?) ?:(?![:|])/iu;
const namedInBrackets = /^( *)\(([^()]{1,24})\)( *:?)$/u;

function withoutRemark(line: string): string {
  return line.replace(remark, (text) => (/[\p{Ll}]{3}/u.test(text) ? blanks(text) : text));
}

/** "(A)" alone on a line names a section as "[A]" does. */
function withName(line: string): string {
  const match = namedInBrackets.exec(line);
  if (match === null || !(isRehearsalLetter(match[2]!) || isSectionName(match[2]!))) return line;
  return `${match[1]!}[${match[2]!}]`;
}

const tidy = (line: string): string =>
  withName(
    withoutRemark(
      line
        .replace(lead, blanks)
        .replace(marks, blanks)
        .replace(timesColon, (all, times: string) => times.padEnd(all.length)),
    ),
  );

/** Lines of a chart without what a page, a letter or a table put around it; each keeps its length. */
export function withoutPage(lines: readonly string[]): readonly string[] {
  return lines.map((line, index) => {
    const isRule = tableRule(line);
    const isHead = tableHead(line) && tableRule(lines[index + 1] ?? '');
    return isRule || isHead || fence.test(line) ? '' : tidy(line);
  });
}

/**
 * True for a line that is a letter alone, after a blank line or before all bars, with bars under it: the name of a section
 * and not a chord of one bar.
 */
export function isLetterOfSection(lines: readonly string[], index: number, barsBegun: boolean): boolean {
  if (!/^ *[A-G] *$/u.test(lines[index]!)) return false;
  const isApart = !barsBegun || (lines[index - 1] ?? '').trim() === '';
  return isApart && /^[^|:]{1,200}\|/u.test(lines[index + 1]?.replace(/^ *\|:?/u, ' ') ?? '');
}
