// The words that name a feel, in a heading of ours and over the first bar of a file.
import data from '../../../shared/words/feels.json' with { type: 'json' };
import { feels, type Feel } from './types';

const isFeel = (word: string): word is Feel => (feels as readonly string[]).includes(word);

const bySpelling: ReadonlyMap<string, Feel> = new Map(
  data.rows.flatMap(({ feel, spellings }) =>
    isFeel(feel)
      ? [feel, ...spellings].map((spelling): [string, Feel] => [spelling.toLowerCase(), feel])
      : [],
  ),
);

/** The feel that a heading names; undefined when it names none. */
export const feelOfWords = (text: string): Feel | undefined =>
  bySpelling.get(text.toLowerCase().replace(/\s+/g, ' ').replace(/[.!]$/, '').trim());
