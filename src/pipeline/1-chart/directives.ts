// What stands in braces before a bar: {3/4}, {Key: Bb}, {pickup}.
import { parseScaleName, type Key, type Meter } from '../../music';
import type { Diagnostics } from './diagnostics';
import { readKey, readMeter } from './headers';
import type { Span } from './types';

export type Directive =
  | { readonly kind: 'meter'; readonly meter: Meter }
  | { readonly kind: 'key'; readonly key: Key }
  | { readonly kind: 'pickup' };

/** Braces that speak of the bars from here on; all others belong to the chord before them. */
export const speaksOfBars = (text: string): boolean =>
  /^(?:pick-?up|c\|?)$|^(?:key|meter|metre|time)\b|^\d/iu.test(text);

/** Undefined, with a problem told, when the words are none of ours. */
export function readDirective(text: string, span: Span, problems: Diagnostics): Directive | undefined {
  if (/^pick-?up$/iu.test(text)) return { kind: 'pickup' };
  const key = /^key *:? +(.+)$|^key:(.+)$/iu.exec(text);
  if (key !== null) {
    const read = readKey((key[1] ?? key[2] ?? '').trim(), span, problems);
    return read && { kind: 'key', key: read };
  }
  const meter = /^(?:meter|metre|time)? *:? *(\d.*|c\|?)$/iu.exec(text);
  if (meter !== null) {
    const read = readMeter(meter[1]!, span, problems);
    return read && { kind: 'meter', meter: read };
  }
  const isScale = parseScaleName(text) !== undefined;
  problems.add(isScale ? 'scale-without-chord' : 'directive-unknown', span, { text });
  return undefined;
}
