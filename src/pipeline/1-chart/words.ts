// The words of the form: signs, jumps, counts of times, names of sections.
import type { WordToken } from './tokens';
import type { Jump } from './types';

const sectionNames: ReadonlySet<string> = new Set([
  'intro',
  'verse',
  'chorus',
  'refrain',
  'bridge',
  'interlude',
  'vamp',
  'head',
  'solo',
  'solos',
  'shout',
  'release',
  'channel',
  'turnaround',
  'pedal',
  'tag',
  'outro',
  'ending',
  'coda',
]);
const introNames: ReadonlySet<string> = new Set(['intro']);
const closingNames: ReadonlySet<string> = new Set(['tag', 'outro', 'ending', 'coda']);

const longestName = 40;
/** A section name without the signs of the chart, so that it can be printed and read again. */
export const cleanName = (name: string): string =>
  name
    .replaceAll(/["[\]{}|:;‖∥𝄀-𝄇\p{Cc}]/gu, ' ')
    .replaceAll(/ +/gu, ' ')
    .trim()
    .slice(0, longestName)
    .trim();

const stem = (name: string): string =>
  name
    .toLowerCase()
    .replace(/[ \d'.]+$/u, '')
    .trim();

/** A name the trade gives to a part of the form, with a number or not. */
export const isSectionName = (name: string): boolean => sectionNames.has(stem(name));
const family = (name: string): string => name.toLowerCase().replace(/[ \d'’′]+$/u, '');
/** Places in `names` that a form means by a part: those of that name or, where there is none, A1 and A' for A. */
export function sectionsFor(part: string, names: readonly string[]): readonly number[] {
  const places = (isMeant: (name: string) => boolean): readonly number[] =>
    names.flatMap((name, index) => (isMeant(name) ? [index] : []));
  const same = places((name) => name.toLowerCase() === part.toLowerCase());
  return same.length > 0 ? same : places((name) => family(name) === part.toLowerCase());
}
/** Bars that are played once, before the first chorus. */
export const isIntroName = (name: string): boolean => introNames.has(stem(name));
/** Bars that are played once, after the last chorus. */
export const isClosingName = (name: string): boolean => closingNames.has(stem(name));
/** A letter with a number or a prime: the usual rehearsal letters. A2 is one, A7 is a chord. */
export const isRehearsalLetter = (text: string): boolean => /^[A-Za-z](?:[1-4]|['′’]{1,3})?$/u.test(text);

const ordinals = ['first', 'second', 'third', 'fourth'];

/** The passes that "1st ending", "second time" or "ending 2" name; undefined for any other words. */
export function passesNamed(text: string): readonly number[] | undefined {
  const match = /^(?:(\d)(?:st|nd|rd|th)|(\p{L}+)) (?:ending|time)[.:]?$|^ending (\d)[.:]?$/iu.exec(
    text.trim(),
  );
  const [, digit, word, last] = match ?? [];
  const pass = digit ?? last ?? (word === undefined ? 0 : ordinals.indexOf(word.toLowerCase()) + 1);
  return Number(pass) > 0 ? [Number(pass)] : undefined;
}

export type FormSign =
  | { readonly kind: 'segno' | 'coda' | 'to coda' | 'fine' }
  | { readonly kind: 'jump'; readonly jump: Jump }
  | { readonly kind: 'times'; readonly times: number };

/** A sign and how many words it took. */
export interface FoundSign {
  readonly sign: FormSign;
  readonly words: number;
}

const segno = /^(?:segno|𝄋|§)$/u;
const coda = /^(?:coda\.?|𝄌|⊕)$/u;
const fine = /^fine\.?$/u;

function jumpStart(words: readonly string[]): { jump: 'D.C.' | 'D.S.'; words: number } | undefined {
  const [first = '', second = ''] = words;
  if (/^d\.?c\.?$/u.test(first) || first === '𝄊') return { jump: 'D.C.', words: 1 };
  if (/^d\.?s\.?$/u.test(first) || first === '𝄉') return { jump: 'D.S.', words: 1 };
  if (first === 'da' && second === 'capo') return { jump: 'D.C.', words: 2 };
  if (first === 'dal' && segno.test(second)) return { jump: 'D.S.', words: 2 };
  return undefined;
}

function readTimes(words: readonly string[]): FoundSign | undefined {
  const [first = '', second = ''] = words;
  const match = /^(?:[x×](\d{1,3})|(\d{1,3})[x×])$/u.exec(first);
  if (match !== null) return { sign: { kind: 'times', times: Number(match[1] ?? match[2]) }, words: 1 };
  if (!/^\d{1,3}$/u.test(first) || second !== 'times') return undefined;
  return { sign: { kind: 'times', times: Number(first) }, words: 2 };
}

/** The sign of the form that starts with the first of these words, undefined when none does. */
export function findSign(tokens: readonly WordToken[]): FoundSign | undefined {
  const words = tokens.map((token) => token.text.toLowerCase().replaceAll(/^\(+|[),;]+$/gu, ''));
  const [first = '', second = ''] = words;
  if (segno.test(first)) return { sign: { kind: 'segno' }, words: 1 };
  if (coda.test(first)) return { sign: { kind: 'coda' }, words: 1 };
  if (fine.test(first)) return { sign: { kind: 'fine' }, words: 1 };
  if (first === 'to' && coda.test(second)) return { sign: { kind: 'to coda' }, words: 2 };
  const start = jumpStart(words);
  if (start === undefined) return readTimes(words);
  const [al = '', where = '', what = ''] = words.slice(start.words);
  const end = al !== 'al' ? null : fine.test(where) ? 'Fine' : coda.test(where) ? 'Coda' : null;
  if (end !== null) {
    return { sign: { kind: 'jump', jump: `${start.jump} al ${end}` }, words: start.words + 2 };
  }
  // "D.C. al 2nd ending" says what a plain D.C. does: the last ending is played after it.
  const toEnding = al === 'al' && /^\d/u.test(where) && /^(?:ending|time)/u.test(what);
  return { sign: { kind: 'jump', jump: start.jump }, words: start.words + (toEnding ? 3 : 0) };
}
