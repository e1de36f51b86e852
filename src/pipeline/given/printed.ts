// What a file says of the hand at a note, against the place that was found for it.
import type { Placement } from '../../instrument';
import type { FileNote } from './read';

/** Fingers and string as they stand at a note; null or nothing where the file is silent. */
export type PrintedPlace = Pick<FileNote, 'string' | 'finger' | 'otherFingers'>;

export const saysNothing = ({ string, finger, otherFingers }: PrintedPlace): boolean =>
  string === null && finger === null && otherFingers.length === 0;

/** True where the place is as printed, as far as the file says; of several fingers the main one counts. */
export const isAsPrinted = (printed: PrintedPlace, { string, finger }: Placement): boolean =>
  (printed.string === null || printed.string === string) &&
  (printed.finger === null || printed.finger === finger);
