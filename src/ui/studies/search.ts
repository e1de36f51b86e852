// Finding a study by its title.
import type { StudyEntry } from '../../state';

/** Letters alone: no case, no accents, so that "Étude" is found by "etude". */
const plain = (text: string): string => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();

/** Studies whose titles hold every word that is sought, in the order they came in. */
export function studiesTitled(entries: readonly StudyEntry[], sought: string): readonly StudyEntry[] {
  const wanted = plain(sought).split(/\s+/).filter(Boolean);
  return entries.filter(({ title }) => wanted.every((word) => plain(title).includes(word)));
}
