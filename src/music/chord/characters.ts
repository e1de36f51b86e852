// From what people type and programs print to plain letters, keeping the place of each.
import data from '../../../shared/chords/characters.json' with { type: 'json' };

/** Text in plain letters; `at[i]` is where letter i stood in what was typed, `at[text.length]` where that ends. */
export interface PlainText {
  readonly text: string;
  readonly at: readonly number[];
}

const plainByCharacter = new Map(
  data.rows.flatMap((row) => [...row.characters].map((character) => [character, row.plain] as const)),
);

function plainOf(character: string): string {
  const known = plainByCharacter.get(character);
  if (known !== undefined) return known;
  if (character <= '~') return character <= ' ' ? ' ' : character;
  // Full-width letters, superscript digits and the like become their plain forms.
  return [...character.normalize('NFKC')].map((part) => plainByCharacter.get(part) ?? part).join('');
}

/** Replaces Unicode accidentals, triangles, circles, dashes, superscripts and blanks by plain ones; linear in the length. */
export function plainText(typed: string): PlainText {
  let text = '';
  const at: number[] = [];
  let place = 0;
  for (const character of typed) {
    const plain = plainOf(character);
    at.push(...plain.split('').map(() => place));
    text += plain;
    place += character.length;
  }
  at.push(typed.length);
  return { text: text.replace(/\s/gu, ' '), at };
}

/** True when the letter at a place of the plain text was typed as a sign: a flat sign is never the note B. */
export const isSignAt = (typed: string, plain: PlainText, place: number): boolean =>
  !/[a-z]/i.test((typed[plain.at[place] ?? 0] ?? '').normalize('NFKC'));
