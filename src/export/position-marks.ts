// Where the name of a hand position is set: at the first stopped note that is played in it.
import type { HandPosition, StringNumber } from '../instrument';
import type { Line } from '../pipeline/5-line';

/** How hand positions are called; the naming scheme belongs to the instrument and its player. */
export interface PositionNamer {
  positionName(position: HandPosition): string;
}

/** How strings are called; what they are tuned to belongs to the instrument. */
export interface StringNames {
  stringName(string: StringNumber): string;
}

/** Position names by index of the note they stand at. Open strings carry none: nothing is held there. */
export function positionMarks(line: Line, naming: PositionNamer): ReadonlyMap<number, string> {
  const marks = new Map<number, string>();
  let current: HandPosition | null = null;
  for (const note of line.notes) {
    const { finger, position } = note.placement;
    if (finger === '0' || position === current) continue;
    marks.set(note.index, naming.positionName(position));
    current = position;
  }
  return marks;
}
