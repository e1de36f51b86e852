// What notes are called in English, in German and in fixed do. For the page only: files and chart text stay in English.
import table from '../../shared/words/note-names.json' with { type: 'json' };
import { alterationOf, letterOf, type NoteName } from './tonal';

export const noteNamings = ['English', 'German', 'fixed do'] as const;
/** How notes are called on the page. */
export type NoteNaming = (typeof noteNamings)[number];

type Signs = Readonly<Record<string, string>>;

function called(name: NoteName, naming: NoteNaming, how: 'signs' | 'spoken'): string {
  const row = table.rows.find((one) => one.naming === naming) ?? table.rows[0]!;
  const exception = (row.exceptions as Signs)[name];
  if (exception !== undefined) return exception;
  const letter = letterOf(name);
  return `${(row.naturals as Signs)[letter] ?? letter}${(row[how] as Signs)[String(alterationOf(name))] ?? ''}`;
}

/** A note for the eye: "B♭", in German "B", in fixed do "Si♭". */
export const noteAsWritten = (name: NoteName, naming: NoteNaming): string => called(name, naming, 'signs');

/** A note for the ear: "B flat", in German "B", in fixed do "Si flat". */
export const noteAsSpoken = (name: NoteName, naming: NoteNaming): string => called(name, naming, 'spoken');
