// What stands in braces before a bar: {3/4}, {Key: Bb}, {pickup}.
import { parseScaleName, type Key, type Meter } from '../../music';
import { readBeats } from './beat-places';
import type { Diagnostics } from './diagnostics';
import { readKey, readMeter } from './headers';
import type { Span } from './types';

export type Directive =
  | { readonly kind: 'meter'; readonly meter: Meter }
  | { readonly kind: 'key'; readonly key: Key }
  /** Beats it lasts; undefined when its chords and slashes say so. */
  | { readonly kind: 'bracket ends' }
  | { readonly kind: 'pickup'; readonly beats: number | undefined };

const bracketEnds = /^bracket +ends$/iu;

/** Braces that speak of the bars from here on; all others belong to the chord before them. */
export const speaksOfBars = (text: string): boolean =>
  bracketEnds.test(text) || /^(?:pick-?up(?: .*)?|c\|?)$|^(?:key|meter|metre|time)\b|^\d/iu.test(text);

/** Undefined, with a problem told, when the words are none of ours. */
export function readDirective(text: string, span: Span, problems: Diagnostics): Directive | undefined {
  if (bracketEnds.test(text)) return { kind: 'bracket ends' };
  const pickup = /^pick-?up(?: +(.+))?$/iu.exec(text);
  if (pickup !== null) {
    const beats = pickup[1] === undefined ? undefined : readBeats(pickup[1].trim());
    if (pickup[1] === undefined || (beats !== undefined && beats > 0)) return { kind: 'pickup', beats };
    problems.add('directive-unknown', span, { text });
    return undefined;
  }
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
