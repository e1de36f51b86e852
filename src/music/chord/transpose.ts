// Chords in another key, with roots that players read.
import {
  intervalBetween,
  plainNoteName,
  simpleName,
  transpose,
  type IntervalName,
  type NoteName,
} from '../tonal';
import type { Chord } from '../types';
import { chordOfFormula, formulaOf } from './assemble';

const awkward: readonly string[] = ['Cb', 'Fb', 'E#', 'B#'];

/**
 * The note an interval above, as a root would be written: no double accidentals, and Cb, Fb, E# and B# only where they
 * belong to the key (`inKey`).
 */
export function transposeRoot(name: NoteName, interval: IntervalName, inKey: readonly NoteName[]): NoteName {
  const moved = simpleName(transpose(name, interval));
  return awkward.includes(moved) && !inKey.includes(moved) ? plainNoteName(moved) : moved;
}

/**
 * The same chord an interval higher. `inKey` are the notes of the key it arrives in, which decide between Cb and B;
 * the bass keeps its distance from the root.
 */
export function transposeChord(chord: Chord, interval: IntervalName, inKey: readonly NoteName[] = []): Chord {
  const root = transposeRoot(chord.root, interval, inKey);
  const bass =
    chord.bass === null ? null : transposeRoot(root, intervalBetween(chord.root, chord.bass), inKey);
  return chordOfFormula(root, formulaOf(chord), bass);
}
