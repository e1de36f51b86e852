// What a note is to its chord, in the words that the rules of layers use.
import type { SoundingMidi } from '../../music';
import type { TimelineChord } from '../2-timeline';
import { degreeIn, isBassNote, isChordNote } from '../5-line';
import type { ChordPart, NoteSet } from './layers';

/** The part of its chord that a note is; null for every other note. */
export function partOf(harmony: TimelineChord, midi: SoundingMidi): ChordPart | null {
  if (isBassNote(harmony, midi)) return 'root';
  const degree = degreeIn(harmony, midi);
  if (!isChordNote(degree)) return null;
  const { number } = degree;
  if (number === 5 || number === 1) return 'fifth';
  if (number === 2 || number === 3 || number === 4) return 'third';
  return number === 6 || number === 7 ? 'seventh' : null;
}

/** One note of every pitch class. */
const everyClass = Array.from({ length: 12 }, (_, one) => (24 + one) as SoundingMidi);

/** Whether a chord has one of some parts at all. */
export const hasPart = (harmony: TimelineChord, parts: readonly ChordPart[]): boolean =>
  everyClass.some((midi) => isPart(harmony, midi, parts));

export function isPart(harmony: TimelineChord, midi: SoundingMidi, parts: readonly ChordPart[]): boolean {
  const part = partOf(harmony, midi);
  return part !== null && parts.includes(part);
}

/** Whether a note is one of those that a layer allows where nothing else is said. */
export function isOfSet(harmony: TimelineChord, midi: SoundingMidi, set: NoteSet): boolean {
  switch (set) {
    case 'all':
      return true;
    case 'root':
      return partOf(harmony, midi) === 'root';
    case 'root and fifth':
      return isPart(harmony, midi, ['root', 'fifth']);
    case 'chord':
      return isChordNote(degreeIn(harmony, midi));
    case 'inside':
      return degreeIn(harmony, midi).place !== 'outside';
  }
}
