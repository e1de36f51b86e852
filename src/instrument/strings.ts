// How strings are called: by the letter they are tuned to, or by numerals from the highest.
import { parseNoteName, pitchClass, pitchClassOf } from '../music';
import type { NoteText } from './positions';
import type { BassString, Instrument, StringNumber } from './types';

/** How strings are named where a person reads them. Positions keep their numerals in any case. */
export const stringNamings = ['letters', 'numerals'] as const;
export type StringNaming = (typeof stringNamings)[number];

/** What a name depends on. */
type Strung = Pick<Instrument, 'strings'>;

const asItIs: NoteText = (name) => name;

/** Sounding octave: the open G of a bass tuned E A D G is G2. */
const octaveOf = ({ open }: BassString): number => Math.floor(open / 12) - 1;

/**
 * The name of a string: "D" as it is tuned, with its sounding octave where two strings have one letter ("E1", "E2"); or "II",
 * counted from the highest. A number that the bass has no string for is given back as it is.
 */
export function stringName(
  { strings }: Strung,
  number: StringNumber,
  naming: StringNaming = 'letters',
  noteText: NoteText = asItIs,
): string {
  const string = strings.find((one) => one.number === number);
  if (string === undefined) return String(number);
  if (naming === 'numerals') return string.numeral;
  const isAlone = strings.filter(({ name }) => name === string.name).length === 1;
  return noteText(string.name) + (isAlone ? '' : octaveOf(string));
}

const namePattern = /^([A-G][b#]?)(\d?)$/;

/**
 * Reads what a person calls a string: "D", "Gb", "E1" or "II", capital or not. A letter that two strings have and that says no
 * octave means neither of them.
 */
export function parseString({ strings }: Strung, text: string): StringNumber | undefined {
  const plain = text.trim().replace('♭', 'b').replace('♯', '#');
  const byNumeral = strings.find(({ numeral }) => numeral === plain.toUpperCase());
  if (byNumeral) return byNumeral.number;
  const [, letter = '', octave = ''] =
    namePattern.exec(plain.slice(0, 1).toUpperCase() + plain.slice(1)) ?? [];
  const name = parseNoteName(letter);
  const found = strings.filter(
    (string) =>
      name !== undefined &&
      pitchClass(string.open) === pitchClassOf(name) &&
      (octave === '' || octaveOf(string) === Number(octave)),
  );
  return found.length === 1 ? found[0]!.number : undefined;
}
