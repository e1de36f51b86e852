import { describe, expect, it, test } from 'vitest';
import {
  makeChord,
  makeKey,
  modes,
  noteAtFifths,
  noteName,
  parseKey,
  pitchClass,
  pitchClassOf,
  scaleFor,
  spellInContext,
  type NoteName,
} from '../../src/music';

/** Spells a note over a chord in a key before the next note. */
function spell(
  pitch: number,
  chord: string,
  key: string,
  next: string | null,
  direction: -1 | 0 | 1 = 0,
): NoteName {
  const harmony = chord === '' ? null : makeChord(chord);
  const home = parseKey(key)!;
  return spellInContext(pitchClass(pitch), {
    chord: harmony,
    scale: harmony && scaleFor(harmony, home, null),
    key: home,
    next: next === null ? null : { name: noteName(next), direction },
  });
}

// How lines are written for players: common practice, no source.
const rows: readonly (readonly [
  why: string,
  pitch: number,
  chord: string,
  key: string,
  next: string | null,
  direction: -1 | 0 | 1,
  name: string,
])[] = [
  ['a chord tone is spelled by the chord', 6, 'Ebm7', 'Db', 'F', -1, 'Gb'],
  ['a chord tone is spelled by the chord', 6, 'D7', 'C', 'G', 1, 'F#'],
  ['a chord tone may be C flat', 11, 'Db7', 'C', null, 0, 'Cb'],
  ['but has no two flats', 9, 'Cdim7', 'C', null, 0, 'A'],
  ['a scale tone is spelled by the scale', 10, 'G7alt', 'C minor', 'G', -1, 'A#'],
  ['a scale tone is spelled by the scale', 1, 'Bbm7', 'Ab', 'C', -1, 'Db'],
  ['in a scale of eight notes a semitone down is a flat', 10, 'Bdim7', 'F', 'A', -1, 'Bb'],
  ['in a scale of eight notes a semitone up is a sharp', 10, 'Bdim7', 'F', 'B', 1, 'A#'],
  ['rising into a note: a sharp', 1, 'C7', 'F', 'D', 1, 'C#'],
  ['falling into a note: a flat', 1, 'G7', 'C', 'C', -1, 'Db'],
  ['rising into F: E', 4, 'Eb', 'Eb', 'F', 1, 'E'],
  ['rising into a flat: the natural below', 9, 'Fm7', 'Eb', 'Bb', 1, 'A'],
  ['falling into a flat: the natural above', 9, 'Bbm7', 'Ab', 'Ab', -1, 'A'],
  ['falling into C flat: C, not D double flat', 0, 'Gb', 'Gb', 'Cb', -1, 'C'],
  ['rising into C flat: B flat', 10, 'Gb', 'Gb', 'Cb', 1, 'Bb'],
  ['rising into F flat: E flat', 3, 'Db7alt', 'Gb', 'Fb', 1, 'Eb'],
  ['falling into E sharp: F sharp', 6, 'C#7', 'F#', 'E#', -1, 'F#'],
  ['rising into E sharp: E', 4, 'C#maj7', 'C#', 'E#', 1, 'E'],
  ['rising into B sharp: B', 11, 'G#7', 'C#', 'B#', 1, 'B'],
  ['falling into G flat: G', 7, 'B', 'B', 'Gb', -1, 'G'],
  ['a whole step up into D flat: C flat reads worse than B', 11, 'Fm7', 'Ab', 'Db', 1, 'B'],
  ['a whole step up into A flat: G flat', 6, 'C7', 'F', 'Ab', 1, 'Gb'],
  ['a leap: as the key has it', 8, 'C7', 'F', 'C', 1, 'Ab'],
  ['a leap: as the key has it', 8, 'E7sus4', 'A', 'B', 1, 'G#'],
  ['no next note: as the key has it', 3, 'C7', 'C', null, 0, 'Eb'],
  ['no next note: the raised fourth', 6, 'C', 'C', null, 0, 'F#'],
  ['over N.C.: as the key has it', 10, '', 'F', null, 0, 'Bb'],
  ['over N.C. in G flat: C flat belongs to the key', 11, '', 'Gb', null, 0, 'Cb'],
  ['over N.C. in G flat: E, not F flat', 4, '', 'Gb', null, 0, 'E'],
];

describe('spellInContext', () => {
  test.each(rows)('%s (%i over %s in %s to %s)', (_, pitch, chord, key, next, direction, name) => {
    expect(spell(pitch, chord, key, next, direction)).toBe(name);
  });

  it('names the pitch asked for, with at most one accidental, wherever it stands', () => {
    const chords = ['', 'C7', 'Gbmaj7', 'F#m7b5', 'Abdim7', 'Db7alt', 'B7#11'];
    const nexts = ['C', 'Cb', 'E#', 'F#', 'Gb', 'Bb', 'D'];
    for (let fifths = -7; fifths <= 7; fifths += 1) {
      for (const mode of modes) {
        const key = makeKey(noteAtFifths(fifths), mode);
        for (const symbol of chords) {
          const chord = symbol === '' ? null : makeChord(symbol);
          const scale = chord && scaleFor(chord, key, null);
          for (const next of nexts) {
            for (const direction of [-1, 0, 1] as const) {
              for (let pitch = 0; pitch < 12; pitch += 1) {
                const after = { name: noteName(next), direction };
                const name = spellInContext(pitchClass(pitch), { chord, scale, key, next: after });
                if (pitchClassOf(name) !== pitch || name.length > 2) {
                  expect.fail(`${pitch} over ${symbol} before ${next} became ${name}`);
                }
              }
            }
          }
        }
      }
    }
  });
});
