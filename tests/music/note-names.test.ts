import { describe, expect, it } from 'vitest';
import { noteAsSpoken, noteAsWritten, noteName, noteNamings } from '../../src/music';

/** Common practice, no source. */
const rows = [
  ['C', 'C', 'C', 'Do'],
  ['B', 'B', 'H', 'Si'],
  ['Bb', 'B♭', 'B', 'Si♭'],
  ['Bbb', 'B𝄫', 'Heses', 'Si𝄫'],
  ['B#', 'B♯', 'His', 'Si♯'],
  ['Eb', 'E♭', 'Es', 'Mi♭'],
  ['Ab', 'A♭', 'As', 'La♭'],
  ['Abb', 'A𝄫', 'Asas', 'La𝄫'],
  ['F#', 'F♯', 'Fis', 'Fa♯'],
  ['F##', 'F𝄪', 'Fisis', 'Fa𝄪'],
  ['Gb', 'G♭', 'Ges', 'Sol♭'],
  ['Db', 'D♭', 'Des', 'Re♭'],
  ['A#', 'A♯', 'Ais', 'La♯'],
] as const;

describe('names of notes', () => {
  it.each(rows)('%s is %s, %s, %s', (name, ...names) => {
    expect(noteNamings.map((naming) => noteAsWritten(noteName(name), naming))).toEqual(names);
  });

  it('are words for a voice', () => {
    const say = (naming: (typeof noteNamings)[number]): string => noteAsSpoken(noteName('Bb'), naming);
    expect(noteNamings.map(say)).toEqual(['B flat', 'B', 'Si flat']);
  });

  it('tell all names with at most two accidentals apart', () => {
    const names = [...'ABCDEFG'].flatMap((letter) =>
      ['bb', 'b', '', '#', '##'].map((sign) => noteName(letter + sign)),
    );
    for (const naming of noteNamings) {
      expect(new Set(names.map((name) => noteAsWritten(name, naming))).size).toBe(names.length);
      expect(new Set(names.map((name) => noteAsSpoken(name, naming))).size).toBe(names.length);
    }
  });
});
