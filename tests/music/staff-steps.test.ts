// A note moved by lines and spaces takes the sign that the key has there.
import { describe, expect, it, test } from 'vitest';
import { makeKey, midiOf, noteName, onStaff } from '../../src/music';

const key = (tonic: string): ReturnType<typeof makeKey> => makeKey(noteName(tonic), 'major');
const from = { name: noteName('C'), octave: 2 };

describe('a pitch moved on the staff', () => {
  test.each([
    ['C', 1, 'D2'],
    ['C', 2, 'E2'],
    ['C', -1, 'B1'],
    ['C', 7, 'C3'],
    ['F', -1, 'Bb1'],
    ['Eb', 2, 'Eb2'],
    ['D', 0, 'C#2'],
    ['D', 3, 'F#2'],
    ['C', -15, 'B-1'],
  ])('in %s by %i is %s', (tonic, steps, expected) => {
    const { name, octave } = onStaff(from, steps, key(tonic));
    expect(`${name}${octave}`).toBe(expected);
  });
  it('goes up by up to two semitones a step', () => {
    const midis = Array.from({ length: 15 }, (_, step) => midiOf(onStaff(from, step, key('A'))));
    midis.slice(1).forEach((midi, at) => expect([1, 2]).toContain(midi - midis[at]!));
  });
});
