// Where the hand goes next, said a beat before it must be there.
import type { HandPosition, StringNumber } from '../../instrument';
import { ticksPerQuarter } from '../../music';
import type { LineNote } from '../../pipeline';

export interface Cue {
  /** Where the hand is to be. */
  readonly position: HandPosition;
  readonly string: StringNumber;
  /** An open string comes: the hand may travel while it rings. */
  readonly isOpen: boolean;
  /** The hand goes somewhere else, or is on its way. */
  readonly isShift: boolean;
}

const isOpen = ({ placement }: LineNote): boolean => placement.finger === '0';

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
  const next = notes[found < 0 || found >= end ? first : found];
  if (!next) return null;
  const { position, string } = next.placement;
  // An open string's place is where the hand is when it ends: until then the hand is on its way there.
  const isTravelling = isOpen(now) && now.move.from !== now.move.to;
  return {
    position,
    string,
    isOpen: isOpen(next),
    isShift: isTravelling || position !== now.placement.position,
  };
}
