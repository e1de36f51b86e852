// Text from anywhere made plain, unit for unit, so that every place stays where the person sees it.

const fullWidthShift = 0xff01 - 0x21;
/** What ends a line of a chart text. */
export const lineBreak = /\r\n|[\n\r\v\f\u0085\u2028\u2029]/u;
/** Blanks, controls and invisible characters; full-width forms; look-alikes of the bar line and the slash. */
const odd =
  /[\p{Cc}\p{Cf}\p{Z}\ufe0e\ufe0f\uff01-\uff5e\u01c0\u00a6\u2223\u2502\u2503\u2758\uffe8\u2044\u2215]/gu;

function plain(character: string): string {
  const code = character.charCodeAt(0);
  if (code >= 0xff01 && code <= 0xff5e) return String.fromCharCode(code - fullWidthShift);
  if (character === '\u2044' || character === '\u2215') return '/';
  if (/[\u00a6\u01c0\u2223\u2502\u2503\u2758\uffe8]/u.test(character)) return '|';
  return ' '.repeat(character.length);
}

/** Lines without their ends, tidied; every line keeps its length in UTF-16 units. */
export const plainLines = (text: string): readonly string[] =>
  text.split(lineBreak).map((line) => line.replace(odd, plain));
