import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import {
  inferKey,
  intervalName,
  keyAreas,
  makeChord,
  parseKey,
  pitchClassOf,
  printKey,
  semitonesOf,
  transposeChord,
  type Chord,
} from '../../../src/music';

const chords = (text: string): readonly Chord[] => text.split(' ').map(makeChord);

// Generic progressions; the key of each is what a player would say (common practice, no source).
const progressions = [
  ['F major', 'F7 Bb7 F7 F7 Bb7 Bb7 F7 D7 Gm7 C7 F7 C7'],
  ['F major', 'F7 F7 F7 F7 Bb7 Bb7 F7 F7 C7 Bb7 F7 F7'],
  ['Bb major', 'Bb7 Eb7 Bb7 Bb7 Eb7 Eb7 Bb7 Bb7 F7 Eb7 Bb7 F7'],
  ['C minor', 'Cm7 Fm7 Cm7 Cm7 Fm7 Fm7 Cm7 Cm7 Ab7 G7 Cm7 G7'],
  ['C minor', 'Cm6 Cm6 Cm6 C7 Fm7 Fm7 Cm6 Cm6 Dm7b5 G7alt Cm6 G7'],
  [
    'Bb major',
    'Bb6 G7 Cm7 F7 Dm7 G7 Cm7 F7 Bb7 Eb7 Ebm6 Bb G7 Cm7 F7 Bb D7 D7 G7 G7 C7 C7 F7 F7 Bb6 G7 Cm7 F7',
  ],
  ['C major', 'Em7b5 A7 Dm7 G7 Cmaj7 Am7 Dm7 G7 Cmaj7'],
  ['Eb major', 'Cm7 F7 Fm7 Bb7 Ebmaj7 Ebmaj7 Abmaj7 Db7 Gm7 C7 Fm7 Bb7 Ebmaj7'],
  ['G minor', 'Gm Gm D7 D7 Cm7 Gm Am7b5 D7 Gm'],
  ['D minor', 'Dm7 Dm7 Dm7 Dm7 Ebm7 Ebm7 Dm7 Dm7'],
  ['F major', 'Fmaj7 D7 Gm7 C7 Am7 D7 Gm7 C7'],
  ['C major', 'Dm7 G7'],
  ['G major', 'G D Em C'],
  ['A minor', 'Am F C G'],
  ['A major', 'A5 D5 E5 A5'],
  ['F# major', 'F#maj7 G#m7 C#7 F#maj7'],
  ['Gb major', 'Gbmaj7 Abm7 Db7'],
  ['Gb major', 'Abm7 Db7'],
  ['F# major', 'G#m7 C#7'],
  ['Eb major', 'Ebmaj7'],
] as const;

describe('inferKey', () => {
  test.each(progressions)('%s: %s', (key, text) => expect(printKey(inferKey(chords(text)))).toBe(key));

  it('is C major without chords', () => expect(printKey(inferKey([]))).toBe('C major'));

  it('moves with the chords', () => {
    const moved = fc.tuple(
      fc.constantFrom(...progressions.map(([, text]) => text)),
      fc.constantFrom('2m', '2M', '3m', '3M', '4P', '5P', '6m', '7m'),
    );
    fc.assert(
      fc.property(moved, ([text, name]) => {
        const interval = intervalName(name);
        const before = inferKey(chords(text));
        const after = inferKey(chords(text).map((chord) => transposeChord(chord, interval)));
        expect(after.mode).toBe(before.mode);
        expect(pitchClassOf(after.tonic)).toBe((pitchClassOf(before.tonic) + semitonesOf(interval)) % 12);
        expect(Math.abs(after.fifths)).toBeLessThanOrEqual(7);
      }),
      { numRuns: 200, seed: 27 },
    );
  });
});

describe('keyAreas', () => {
  it('gives a two-five-one its own key and the rest the home key', () => {
    const areas = keyAreas(chords('Fmaj7 Am7b5 D7 Gm7 C7 Fmaj7 Bbm7 Eb7 Abmaj7 Gm7 C7'), parseKey('F')!);
    expect(areas.map(printKey)).toEqual([
      'F major',
      'G minor',
      'G minor',
      'G minor',
      'F major',
      'F major',
      'Ab major',
      'Ab major',
      'Ab major',
      'F major',
      'F major',
    ]);
  });

  it('leaves a blues at home', () => {
    const areas = keyAreas(chords(progressions[0][1]), parseKey('F')!);
    expect(new Set(areas.map(printKey))).toEqual(new Set(['F major']));
  });
});
