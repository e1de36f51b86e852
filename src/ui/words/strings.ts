// Strings as the person calls them: by letter, or by numeral from the highest. Every string on the page goes through here.
import {
  parseString,
  stringName,
  stringNumeral,
  type Instrument,
  type StringNaming,
  type StringNumber,
} from '../../instrument';
import { parseNoteName } from '../../music';
import { noteAloud, noteText } from './notes';

let naming: () => StringNaming = () => 'letters';

/** Where the choice is read from, set once at the start; a read of reactive state makes every name follow it. */
export function nameStringsBy(read: () => StringNaming): void {
  naming = read;
}

type Strung = Pick<Instrument, 'strings'>;

/** A string for the eye: "D", "E♭" or "II". */
export const stringText = (instrument: Strung, number: StringNumber): string =>
  stringName(instrument, number, naming(), noteText);

const aloud = (name: string): string => {
  const note = parseNoteName(name);
  return note === undefined ? name : noteAloud(note);
};

/** A string for the ear: "D", "E flat" or "II". */
export const stringAloud = (instrument: Strung, number: StringNumber): string =>
  stringName(instrument, number, naming(), aloud);

/** The same for a string of which only its letter and its number are known. */
export const lettered = (letter: string, number: StringNumber): string =>
  naming() === 'numerals' ? stringNumeral(number) : noteText(letter);

/** Strings within a sentence that the pipeline wrote, "on string Eb", by their present names. */
export const withStringsNamed = (sentence: string, instrument: Strung): string =>
  sentence.replace(/\bstring ([A-G][b#]?\d?)(?![\w#♯♭])/g, (whole, name: string) => {
    const number = parseString(instrument, name);
    return number === undefined ? whole : `string ${stringText(instrument, number)}`;
  });
