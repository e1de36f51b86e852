import { describe, expect, it, test } from 'vitest';
import {
  fifthsOf,
  keyNotes,
  makeKey,
  modes,
  noteAtFifths,
  noteName,
  parseKey,
  pitchClassOf,
  practicalKeys,
  printKey,
  sameKey,
  transposeKey,
  transpositionTo,
  intervalName,
} from '../../../src/music';

const names = [...'CDEFGAB'].flatMap((letter) =>
  ['', '#', '##', 'b', 'bb'].map((sign) => noteName(letter + sign)),
);

describe('makeKey', () => {
  // Signatures: circle of fifths, any theory text.
  test.each([
    ['C', 'major', 'C', 0],
    ['F', 'major', 'F', -1],
    ['Gb', 'major', 'Gb', -6],
    ['F#', 'major', 'F#', 6],
    ['C#', 'major', 'C#', 7],
    ['Cb', 'major', 'Cb', -7],
    ['A', 'minor', 'A', 0],
    ['C', 'minor', 'C', -3],
    ['A#', 'minor', 'A#', 7],
    ['Ab', 'minor', 'Ab', -7],
    // Eight accidentals and more are respelled.
    ['G#', 'major', 'Ab', -4],
    ['D#', 'major', 'Eb', -3],
    ['E#', 'major', 'F', -1],
    ['B#', 'major', 'C', 0],
    ['Fb', 'major', 'E', 4],
    ['Db', 'minor', 'C#', 4],
    ['Gb', 'minor', 'F#', 3],
    ['Fb', 'minor', 'E', 1],
    ['B#', 'minor', 'C', -3],
  ] as const)('%s %s', (tonic, mode, expected, fifths) => {
    expect(makeKey(noteName(tonic), mode)).toEqual({ tonic: expected, mode, fifths });
  });

  it('has at most seven accidentals and the tonic asked for, from every note', () => {
    for (const name of names) {
      for (const mode of modes) {
        const key = makeKey(name, mode);
        expect(Math.abs(key.fifths)).toBeLessThanOrEqual(7);
        expect(pitchClassOf(key.tonic)).toBe(pitchClassOf(name));
        expect(keyNotes(key).filter((note) => note.length > 1)).toHaveLength(Math.abs(key.fifths));
      }
    }
  });

  it('the line of fifths runs both ways', () => {
    for (const name of names) expect(noteAtFifths(fifthsOf(name))).toBe(name);
  });
});

describe('parseKey', () => {
  test.each([
    ['Bb', 'Bb major'],
    ['F minor', 'F minor'],
    ['Fm', 'F minor'],
    ['F-', 'F minor'],
    ['f# minor', 'F# minor'],
    ['E♭ major', 'Eb major'],
    ['B flat', 'Bb major'],
    ['F-sharp minor', 'F# minor'],
    ['Key of Ab', 'Ab major'],
    ['CM', 'C major'],
    ['Cmi', 'C minor'],
    ['  d min. ', 'D minor'],
    ['bb', 'Bb major'],
    ['b', 'B major'],
    ['a', 'A major'],
    ['G# major', 'Ab major'],
    ['D dorian', 'D dorian'],
    ['d dor', 'D dorian'],
    ['Bb Lydian', 'Bb lydian'],
    ['G mix', 'G mixolydian'],
    ['A aeolian', 'A minor'],
    ['C ionian', 'C major'],
  ])('%j is %s', (text, key) => expect(printKey(parseKey(text)!)).toBe(key));

  test.each([
    '',
    'H',
    'C7',
    'Cmaj7',
    'C doric',
    'C dorian minor',
    'C minor blues',
    'major',
    'Cbbb',
    'C'.repeat(1000),
  ])('%j is not a key', (text) => expect(parseKey(text)).toBeUndefined());

  // Signatures of the church modes: any theory text.
  test.each([
    ['D dorian', 0, 'minor', 'D E F G A B C'],
    ['C dorian', -2, 'minor', 'C D Eb F G A Bb'],
    ['F lydian', 0, 'major', 'F G A B C D E'],
    ['G mixolydian', 0, 'major', 'G A B C D E F'],
    ['E phrygian', 0, 'minor', 'E F G A B C D'],
    ['B locrian', 0, 'minor', 'B C D E F G A'],
    ['Gb dorian', 4, 'minor', 'F# G# A B C# D# E'],
  ] as const)('%s keeps its mode', (text, fifths, mode, notes) => {
    const key = parseKey(text)!;
    expect(key).toMatchObject({ fifths, mode });
    expect(keyNotes(key).join(' ')).toBe(notes);
    expect(parseKey(printKey(key))).toEqual(key);
    expect(transposeKey(key, intervalName('2M'))).toMatchObject({ church: key.church });
  });

  it('reads what printKey writes', () => {
    for (const name of names) {
      for (const mode of modes) {
        const key = makeKey(name, mode);
        expect(parseKey(printKey(key))).toEqual(key);
      }
    }
  });
});

describe('moving between keys', () => {
  it('offers twelve keys a mode, each pitch class once', () => {
    for (const mode of modes) {
      const keys = practicalKeys(mode);
      expect(new Set(keys.map((key) => pitchClassOf(key.tonic))).size).toBe(12);
      expect(Math.max(...keys.map((key) => Math.abs(key.fifths)))).toBe(6);
    }
    expect(practicalKeys('major').map((key) => key.tonic)).toContain('Gb');
  });

  test.each([
    ['C# major', '3M', 'F major'],
    ['Bb minor', '3m', 'C# minor'],
    ['F major', '2M', 'G major'],
  ])('%s a %s higher is %s', (from, interval, to) => {
    expect(printKey(transposeKey(parseKey(from)!, intervalName(interval)))).toBe(to);
  });

  test.each([
    ['C', 'F', '4P', 5],
    ['F', 'C', '5P', -5],
    ['C', 'Gb', '5d', 6],
    ['Bb', 'A', '7M', -1],
    ['F', 'F', '1P', 0],
    ['C# major', 'F', '4d', 4],
  ])('from %s to %s', (from, to, interval, semitones) => {
    const way = transpositionTo(parseKey(from)!, parseKey(to)!);
    expect(way).toEqual({ interval, semitones, to: parseKey(to) });
  });

  it('tells keys apart', () => {
    expect(sameKey(parseKey('A')!, parseKey('A major')!)).toBe(true);
    expect(sameKey(parseKey('A')!, parseKey('Am')!)).toBe(false);
  });
});
