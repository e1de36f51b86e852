// A chart text with one thing changed, everything else left as it was typed.
import { parseScaleName, type ScaleName } from '../../music';
import { lineBreak } from './characters';
import type { Span } from './types';

/** Offset in the text of the end of a span; null when the text has no such place. */
function endOf(text: string, { line, column, length }: Span): number | null {
  let start = 0;
  const breaks = text.matchAll(new RegExp(lineBreak.source, 'gu'));
  for (let number = 1; number < line; number += 1) {
    const next = breaks.next();
    if (next.done) return null;
    start = next.value.index + next.value[0].length;
  }
  const end = start + column - 1 + length;
  return end > text.length ? null : end;
}

/**
 * The text with a scale asked for over the chord that stands at `span`: its name in braces behind the chord, in place of
 * one that stands there. Null as the scale takes it away. The text itself where the place is not in it.
 */
export function withScale(text: string, span: Span, scale: ScaleName | null): string {
  const end = endOf(text, span);
  if (end === null) return text;
  const place = /^[ \t]*@\d[\d.+/]*/u.exec(text.slice(end))?.[0].length ?? 0;
  const after = text.slice(end + place);
  const braces = /^[ \t]*\{([^{}\n\r]*)\}/u.exec(after);
  const isScale = braces !== null && parseScaleName(braces[1]!) !== undefined;
  const rest = isScale ? after.slice(braces[0].length) : after;
  return `${text.slice(0, end + place)}${scale === null ? '' : `{${scale}}`}${rest}`;
}
