// Where the hand goes next, said a beat before it must be there.
import { isOpenString, type HandPosition, type StringNumber } from '../../instrument';
import { ticksPerQuarter } from '../../music';
import { placeAt, type LineNote } from '../../pipeline';

export interface Cue {
  /** Where the hand is to be; over an open string, where it goes: to the next stopped note. */
  readonly position: HandPosition;
  readonly string: StringNumber;
  /** An open string comes: the hand may travel while it rings. */
  readonly isOpen: boolean;
  /** The hand goes somewhere else, or is on its way. */
  readonly isShift: boolean;
}

/**
 * The place of the note that comes a beat after the sounding one has begun; a shorter note on the way is passed over.
 * @param index of the sounding note
 * @param first index of the note that follows the last one of what goes round
 * @param end index after the last note of what goes round
 */
export function cueAt(notes: readonly LineNote[], index: number, first: number, end: number): Cue | null {
  const now = notes[index];
  if (!now) return null;
  const ahead = now.tick + ticksPerQuarter;
  const found = notes.findIndex((note, i) => i > index && note.tick >= ahead);
  const at = found < 0 || found >= end ? first : found;
  const next = notes[at];
  const position = placeAt(notes, at, first, end);
  if (!next || position === undefined) return null;
  // Over open strings that carry it the hand is on its way.
  const isShift = now.carry !== null || position !== placeAt(notes, index, first, end);
  return { position, string: next.placement.string, isOpen: isOpenString(next.placement), isShift };
}
