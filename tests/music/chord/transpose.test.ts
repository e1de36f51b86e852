import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import {
  intervalName,
  keyNotes,
  makeChord,
  makeKey,
  noteName,
  parseKey,
  semitonesOf,
  transposeChord,
  transpositionTo,
  type Key,
} from '../../../src/music';

const key = (text: string): Key => parseKey(text)!;
/** A run of chords from one key to another. */
function moved(symbols: string, from: string, to: string): string {
  const { interval, to: arrival } = transpositionTo(key(from), key(to));
  const inKey = keyNotes(arrival);
  return symbols
    .split(' ')
    .map((symbol) => transposeChord(makeChord(symbol), interval, inKey).symbol)
    .join(' ');
}

describe('transposeChord', () => {
  test.each([
    ['F7 Bb7 Cm7 F7 Gm7b5/Db C7alt', 'F', 'Bb', 'Bb7 Eb7 Fm7 Bb7 Cm7b5/Gb F7alt'],
    ['Dm7 G7 Cmaj7/E Db7 Bb7', 'C', 'Gb', 'Abm7 Db7 Gbmaj7/Bb G7 E7'],
    ['Fmaj7 F#dim7 C/E', 'C', 'Gb', 'Cbmaj7 Cdim7 Gb/Bb'],
    ['Ebmaj7 Gb7 Am7b5', 'Eb', 'E', 'Emaj7 G7 A#m7b5'],
    ['Bm7b5 E7 Am', 'A minor', 'C minor', 'Dm7b5 G7 Cm'],
    // The third above C sharp is E sharp, a key of eleven sharps: F is its name on the page.
    ['C#maj7 D#m7 G#7', 'C# major', 'E# major', 'Fmaj7 Gm7 C7'],
    ['Bbm7 Ebm7', 'Bb minor', 'Db minor', 'C#m7 F#m7'],
    ['F#maj7 B#m7b5', 'F#', 'Gb', 'Gbmaj7 Cm7b5'],
  ])('%s from %s to %s', (symbols, from, to, expected) => expect(moved(symbols, from, to)).toBe(expected));

  it('moves every tone by the interval and comes back', () => {
    const symbols = fc.constantFrom('C7alt', 'Ebm7b5', 'F#13b9', 'Abmaj7#11/C', 'Bbdim7', 'G7sus4', 'D6/F#');
    const intervals = fc.constantFrom('2m', '2M', '3m', '3M', '4P', '5d', '5P', '6m', '6M', '7m', '7M');
    fc.assert(
      fc.property(symbols, intervals, (symbol, name) => {
        const chord = makeChord(symbol);
        const interval = intervalName(name);
        const up = transposeChord(chord, interval);
        const size = semitonesOf(interval);
        expect(up.tones.map((tone) => tone.pitchClass)).toEqual(
          chord.tones.map((tone) => (tone.pitchClass + size) % 12),
        );
        expect(up.tones.map((tone) => tone.interval)).toEqual(chord.tones.map((tone) => tone.interval));
        expect(up.root.length).toBeLessThanOrEqual(2);
      }),
      { seed: 24 },
    );
  });

  it('keeps Cb where the key has it', () => {
    const up = (inKey: string): string =>
      transposeChord(makeChord('F'), intervalName('5d'), keyNotes(makeKey(noteName(inKey), 'major'))).symbol;
    expect(up('Gb')).toBe('Cb');
    expect(up('C')).toBe('B');
  });
});
