// Texts over a staff that are signs of the form.
import { findSign, type FormSign } from '../words';
import type { SketchBar } from './sketch';

const noChord = /^\(?n\.?\s?c\.?\)?$/i;

function wordTokens(text: string): Parameters<typeof findSign>[0] {
  const words = text.split(/\s+/).filter(Boolean);
  return words.map((word) => ({ kind: 'word', text: word, span: { line: 1, column: 1, length: 1 } }));
}

/** Longer texts over a staff are no signs, whatever they begin with. */
export const longestSign = 60;

/** The sign that a text over the staff is, when it is one. */
export const signOfWords = (text: string): FormSign | undefined =>
  text.length > longestSign ? undefined : findSign(wordTokens(text))?.sign;

/** True for the words that silence the band. */
export const isNoChord = (text: string): boolean => noChord.test(text.trim());

/** Puts a sign where it belongs; a jump here has said where it ends. */
export function applySign(sign: FormSign, bar: SketchBar, tick: number): void {
  if (sign.kind === 'jump') bar.jump = sign.jump;
  else if (sign.kind === 'times') bar.times = Math.min(Math.max(sign.times, 1), 99);
  else if (sign.kind === 'segno') bar.segno = true;
  else if (sign.kind === 'coda') bar.coda ??= tick;
  else if (sign.kind === 'to coda') bar.toCoda = true;
  else bar.fine = true;
}

/** Numbers of an ending: "1", "1, 2", "1-3"; empty when there is none. */
export function endingPasses(text: string): number[] {
  const passes = text.split(/[\s,;]+/).flatMap((part) => {
    const match = /^(\d{1,2})\.?(?:[-–](\d{1,2})\.?)?$/.exec(part);
    if (!match) return [];
    const first = Number(match[1]);
    const last = Math.max(first, Number(match[2] ?? first));
    return Array.from({ length: last - first + 1 }, (_, index) => first + index);
  });
  return [...new Set(passes)].filter((pass) => pass > 0);
}
