// Cuts what follows the root into words, numbers, accidentals and punctuation.
import vocabulary from '../../../shared/chords/vocabulary.json' with { type: 'json' };

export const wordKinds = [
  'major',
  'triangle',
  'minor',
  'dominant',
  'diminished',
  'halfDiminished',
  'augmented',
  'suspended',
  'add',
  'omit',
  'altered',
] as const;
export type WordKind = (typeof wordKinds)[number];

/** A piece of a chord symbol; `start` and `end` are places in the plain text. */
export type Token = { readonly start: number; readonly end: number } & (
  | {
      readonly kind: WordKind | 'plus' | 'minus' | 'open' | 'close' | 'comma' | 'slash' | 'blank' | 'unknown';
    }
  /** A mode's name, already read as the symbol it stands for. */
  | { readonly kind: 'mode'; readonly alone: readonly Token[]; readonly after: readonly Token[] }
  | { readonly kind: 'number'; readonly number: number }
  /** Sharps positive, flats negative, 0 a natural sign. */
  | { readonly kind: 'accidental'; readonly alter: number }
);

type Meaning =
  | { readonly kind: WordKind }
  | { readonly kind: 'accidental'; readonly alter: number }
  | { readonly kind: 'number'; readonly number: number }
  | { readonly kind: 'mode'; readonly alone: string; readonly after: string };

interface Entry {
  readonly meaning: Meaning;
  readonly before: 'anything' | 'number' | 'number or end';
  /** Counts only right after the root: in "C D7" the D is another chord. */
  readonly afterRoot?: boolean;
}

const alterByWord: Readonly<Record<string, number>> = { flat: -1, sharp: 1, natural: 0 };

function meaningOf(means: string): Meaning {
  const alter = alterByWord[means];
  if (alter !== undefined) return { kind: 'accidental', alter };
  const kind = wordKinds.find((word) => word === means);
  if (kind === undefined) throw new RangeError(`vocabulary.json: no such meaning: ${means}`);
  return { kind };
}

function readVocabulary(): { exact: Map<string, Entry>; anyCase: Map<string, Entry> } {
  const exact = new Map<string, Entry>();
  const anyCase = new Map<string, Entry>();
  for (const row of vocabulary.rows) {
    const meaning = meaningOf(row.means);
    for (const word of row.words ?? []) anyCase.set(word, { meaning, before: 'anything' });
    for (const word of row.exact ?? []) exact.set(word, { meaning, before: 'anything' });
    for (const word of row.beforeNumber ?? []) anyCase.set(word, { meaning, before: 'number' });
    for (const word of row.afterRoot ?? [])
      exact.set(word, { meaning, before: 'number or end', afterRoot: true });
    for (const word of row.afterRootBeforeNumber ?? [])
      exact.set(word, { meaning, before: 'number', afterRoot: true });
  }
  for (const { number, words } of vocabulary.numbers) {
    for (const word of words) anyCase.set(word, { meaning: { kind: 'number', number }, before: 'anything' });
  }
  for (const { words, alone, after } of vocabulary.modes) {
    for (const word of words) {
      anyCase.set(word, { meaning: { kind: 'mode', alone, after }, before: 'anything' });
    }
  }
  return { exact, anyCase };
}

const { exact, anyCase } = readVocabulary();
const longestWord = Math.max(...[...exact.keys(), ...anyCase.keys()].map((word) => word.length));
const signs: Readonly<Record<string, 'plus' | 'minus' | 'open' | 'close' | 'comma' | 'slash' | 'blank'>> = {
  '+': 'plus',
  '-': 'minus',
  '(': 'open',
  '[': 'open',
  '{': 'open',
  ')': 'close',
  ']': 'close',
  '}': 'close',
  ',': 'comma',
  ';': 'comma',
  '&': 'comma',
  '/': 'slash',
  '\\': 'slash',
  ' ': 'blank',
  '.': 'blank',
};
/** One degree, or the first of two written without a sign between them: "69", "sus24", "C713". */
const digits = /(?:10|11|13|[2-79])(?![0-9])|6(?=[79])|2(?=4)|4(?=[27])|7(?=4|9|11|13)|9(?=11|13)|11(?=13)/y;
const ordinal = new RegExp(vocabulary.ordinals.words.join('|'), 'iy');

/** In "Cmadd9" the a belongs to "add", not to "ma". */
const startsWord = /add|aug|alt/iy;

function wordAt(text: string, start: number, rootEnd: number): { entry: Entry; end: number } | undefined {
  for (let length = Math.min(longestWord, text.length - start); length > 0; length -= 1) {
    const end = start + length;
    const word = text.slice(start, end);
    const entry = exact.get(word) ?? anyCase.get(word.toLowerCase());
    if (entry === undefined) continue;
    startsWord.lastIndex = end - 1;
    if (length > 1 && startsWord.test(text)) continue;
    if (entry.afterRoot === true && start !== rootEnd) continue;
    const next = text[end];
    const fits =
      entry.before === 'anything' ||
      (next === undefined ? entry.before === 'number or end' : next >= '0' && next <= '9');
    if (fits) return { entry, end };
  }
  return undefined;
}

function tokenAt(text: string, start: number, rootEnd: number): Token {
  const character = text[start]!;
  const sign = signs[character];
  if (sign !== undefined) return { kind: sign, start, end: start + 1 };
  if (character === '#' || character === 'b') {
    let end = start + 1;
    while (text[end] === character) end += 1;
    return { kind: 'accidental', alter: (character === '#' ? 1 : -1) * (end - start), start, end };
  }
  digits.lastIndex = start;
  const number = digits.exec(text);
  if (number) {
    const end = start + number[0].length;
    ordinal.lastIndex = end;
    return { kind: 'number', number: Number(number[0]), start, end: ordinal.test(text) ? end + 2 : end };
  }
  const word = wordAt(text, start, rootEnd);
  if (!word) return { kind: 'unknown', start, end: start + 1 };
  const { meaning } = word.entry;
  if (meaning.kind !== 'mode') return { ...meaning, start, end: word.end };
  const place = { start, end: word.end };
  const inPlace = (symbol: string): Token[] => tokenise(symbol).map((token) => ({ ...token, ...place }));
  return { kind: 'mode', alone: inPlace(meaning.alone), after: inPlace(meaning.after), ...place };
}

/** The pieces after the root, which ends at `from`. Linear in the length; what is in no vocabulary becomes `unknown` tokens of one letter. */
export function tokenise(text: string, from = 0): Token[] {
  const tokens: Token[] = [];
  for (let place = from; place < text.length; place = tokens.at(-1)!.end)
    tokens.push(tokenAt(text, place, from));
  return tokens;
}
