// The words that name a feel, in a heading of ours and over the first bar of a file.
import { feelSpellings } from './feel-rows';
import { feels, type Feel } from './types';

const bySpelling: ReadonlyMap<string, Feel> = new Map(
  feels.flatMap((feel) =>
    [feel, ...feelSpellings[feel]].map((spelling): [string, Feel] => [spelling.toLowerCase(), feel]),
  ),
);

/** The feel that a heading names; undefined when it names none. */
export const feelOfWords = (text: string): Feel | undefined =>
  bySpelling.get(text.toLowerCase().replace(/\s+/g, ' ').replace(/[.!]$/, '').trim());
