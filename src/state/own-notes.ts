// The notes of a line of one's own changed one at a time. A note is known by its bar as written and its place in it.
import { soundingMidi } from '../music';
import type { OwnNote } from '../pipeline';
import { mostOwnNotes } from './own-text';

/** Where a note begins. */
export type OwnPlace = Pick<OwnNote, 'bar' | 'at'>;

/** Lengths that "longer" and "shorter" go through, in ticks: a sixteenth to a whole note of 4/4 and a half. */
const lengths = [120, 160, 240, 320, 480, 720, 960, 1440, 1920, 2880] as const;

const isAt = ({ bar, at }: OwnPlace, place: OwnPlace): boolean => bar === place.bar && at === place.at;

const inOrder = (one: OwnPlace, other: OwnPlace): number => one.bar - other.bar || one.at - other.at;

const changed = (
  notes: readonly OwnNote[],
  place: OwnPlace,
  change: (note: OwnNote) => OwnNote,
): readonly OwnNote[] => notes.map((note) => (isAt(note, place) ? change(note) : note));

/** A note some semitones higher; fingers that were written for it are forgotten. */
export const transposed = (
  notes: readonly OwnNote[],
  place: OwnPlace,
  semitones: number,
): readonly OwnNote[] =>
  changed(notes, place, (note) => ({
    ...note,
    midi: soundingMidi(Math.min(127, Math.max(0, note.midi + semitones))),
    string: null,
    finger: null,
    otherFingers: [],
  }));

/**
 * A note of the next longer or shorter kind.
 * @param from how long it sounds, in ticks
 * @param room until the next note begins, or the music ends
 */
export function lengthened(
  notes: readonly OwnNote[],
  place: OwnPlace,
  by: 1 | -1,
  { from, room }: { readonly from: number; readonly room: number },
): readonly OwnNote[] {
  const next = by > 0 ? lengths.find((one) => one > from) : lengths.findLast((one) => one < from);
  const length = Math.min(next ?? from, room);
  return length === from ? notes : changed(notes, place, (note) => ({ ...note, ticks: length }));
}

/** Without a note; without the last one the line is empty and waits for notes. */
export const without = (notes: readonly OwnNote[], place: OwnPlace): readonly OwnNote[] =>
  notes.filter((note) => !isAt(note, place));

/** A note that begins elsewhere, as long as it was; the same notes where another begins there. */
export const movedTo = (notes: readonly OwnNote[], place: OwnPlace, to: OwnPlace): readonly OwnNote[] =>
  notes.some((note) => isAt(note, to))
    ? notes
    : changed(notes, place, (note) => ({ ...note, ...to })).toSorted(inOrder);

/** Moments at which "earlier" and "later" begin, in ticks from the bar: halves of a quarter. */
const stepTicks = 240;
/** The next of those moments before or after a tick of a bar. */
export const stepFrom = (at: number, by: 1 | -1): number =>
  by > 0 ? (Math.floor(at / stepTicks) + 1) * stepTicks : (Math.ceil(at / stepTicks) - 1) * stepTicks;

/** With one note more; the same notes where one begins at that moment, or there are as many as can be. */
export function withNote(
  notes: readonly OwnNote[],
  note: Pick<OwnNote, 'bar' | 'at' | 'ticks' | 'midi'>,
): readonly OwnNote[] {
  if (notes.length >= mostOwnNotes || notes.some((one) => isAt(one, note))) return notes;
  return [...notes, { ...note, string: null, finger: null, otherFingers: [] }].sort(inOrder);
}
