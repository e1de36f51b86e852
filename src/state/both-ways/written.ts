// The fingers that a file had, beside both ways of fingering its line.
import type { Placement } from '../../instrument';
import type { SpelledPitch } from '../../music';
import { isAsPrinted, saysNothing, type BothWays, type PrintedPlace } from '../../pipeline';

/** A note at which the file says something of the hand. */
export interface MarkedNote {
  readonly index: number;
  readonly pitch: SpelledPitch;
  readonly written: PrintedPlace;
  readonly usual: Placement;
  readonly open: Placement;
  readonly isAsUsual: boolean;
  readonly isAsOpen: boolean;
}

/** The notes with fingers of their own; none where a way has no line. `printed` goes with the notes one by one. */
export function writtenNotes(
  { usual, open }: BothWays,
  printed: readonly PrintedPlace[],
): readonly MarkedNote[] {
  const openNotes = open.line?.notes ?? [];
  return (usual.line?.notes ?? []).flatMap((note, index) => {
    const written = printed[index];
    const other = openNotes[index];
    if (written === undefined || other === undefined || saysNothing(written)) return [];
    return [
      {
        index,
        pitch: note.pitch,
        written,
        usual: note.placement,
        open: other.placement,
        isAsUsual: isAsPrinted(written, note.placement),
        isAsOpen: isAsPrinted(written, other.placement),
      },
    ];
  });
}
