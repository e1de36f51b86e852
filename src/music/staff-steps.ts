// Pitches by the lines and spaces of a staff.
import { keyNotes } from './key';
import type { Key } from './types';
import { letterOf, type SpelledPitch } from './tonal';

const letters = 'CDEFGAB';

/** The pitch some lines and spaces higher, as the key has it there: what a note becomes that is moved by hand. */
export function onStaff(pitch: Pick<SpelledPitch, 'name' | 'octave'>, steps: number, key: Key): SpelledPitch {
  const step = letters.indexOf(letterOf(pitch.name)) + pitch.octave * letters.length + steps;
  const letter = letters[((step % letters.length) + letters.length) % letters.length]!;
  const name = keyNotes(key).find((one) => letterOf(one) === letter)!;
  return { name, octave: Math.floor(step / letters.length) };
}
