// Where a section is played: each stop once, with the fingers that take it.
import type { Finger, StringNumber } from '../../instrument';
import type { LineNote } from '../../pipeline';

export interface PrintSpot {
  readonly string: StringNumber;
  /** 0 for the open string. */
  readonly stop: number;
  /** In the order in which they come. */
  readonly fingers: readonly Finger[];
}

export function spotsOf(notes: readonly Pick<LineNote, 'placement'>[]): readonly PrintSpot[] {
  const found = new Map<string, PrintSpot>();
  for (const { placement } of notes) {
    const { string, stop, finger } = placement;
    const key = `${string} ${stop}`;
    const fingers = found.get(key)?.fingers ?? [];
    found.set(key, { string, stop, fingers: fingers.includes(finger) ? fingers : [...fingers, finger] });
  }
  return [...found.values()];
}
