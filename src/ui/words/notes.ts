// Notes as the person calls them. Every note on the page goes through here; chord symbols, chart text and files do not.
import { parseNoteName, noteAsSpoken, noteAsWritten, type NoteNaming, type NoteName } from '../../music';

let naming: () => NoteNaming = () => 'English';

/** Where the choice is read from, set once at the start; a read of reactive state makes every name follow it. */
export function nameNotesBy(read: () => NoteNaming): void {
  naming = read;
}

const signs: Readonly<Record<string, string>> = { b: '♭', '#': '♯' };
const plain: Readonly<Record<string, string>> = { '♭': 'b', '♯': '#' };

/** A chord symbol with its signs, in English as in the chart: "B♭7" for "Bb7". */
export const symbolText = (symbol: string): string =>
  symbol.slice(0, 1) +
  symbol
    .slice(1)
    .replace(/[b#]/g, (sign) => signs[sign] ?? sign)
    .replace(/69/, '6/9');

/** Words that are chord symbols with an accidental: a root, then nothing but what symbols are made of. */
const symbols =
  /(?<![\w♭♯])[A-G](?:[b#](?![a-z])|(?=[^\s,.;:]*\d)|[b#](?=maj|min|m|dim|aug|sus|add|alt|no|dom))(?:maj|min|mMaj|Maj|dim|aug|sus|add|alt|dom|no|m|\d|[b#](?=\d)|[()/+°ø-]|[A-G][b#]?)*(?![\w♭♯])/g;

/** A sentence whose chord symbols have their signs, as they stand over the staff: "B♭7" for "Bb7". */
export const withSigns = (sentence: string): string => sentence.replace(symbols, symbolText);

/** A note for the eye: "B♭" for "Bb" or "B♭"; text that is no note is given back with its signs. */
export function noteText(name: string): string {
  const note = parseNoteName(name.replace(/[♭♯]/g, (sign) => plain[sign] ?? sign));
  return note === undefined ? symbolText(name) : noteAsWritten(note, naming());
}

/** A note for the ear: "B flat". */
export const noteAloud = (name: NoteName): string => noteAsSpoken(name, naming());

/** Pitches within a sentence, as "E♭2", by their present names. */
export const withNotesNamed = (sentence: string): string =>
  sentence.replace(
    /\b([A-G][b#♭♯]?)(-?\d)(?![\w♭♯])/g,
    (_, note: string, octave: string) => noteText(note) + octave,
  );
