// Signs of the form in ABC: their names, our own instructions, and where a repeat begins that nothing opens.
import type { SketchBar } from './sketch';

/** An instruction of ours: the bracket of an ending closes here although no bar line says so. */
export const endingStop = 'ramble-ending-stop';
/** An instruction of ours: the repeat that closes here goes back over the double bar line before it. */
export const pastDouble = 'ramble-repeat-past-double';

/** An instruction of ours: the bar repeats so many bars before it. */
export const simileSign = /^ramble-simile ([12])$/;

/** Decorations that are signs of the form, as words that stand over a staff. */
export const formWords: Readonly<Record<string, string>> = {
  segno: 'segno',
  coda: 'coda',
  fine: 'Fine',
  dacoda: 'To Coda',
  dacapo: 'D.C.',
  'd.c.': 'D.C.',
  'd.s.': 'D.S.',
  'd.c.alfine': 'D.C. al Fine',
  'd.c.alcoda': 'D.C. al Coda',
  'd.s.alfine': 'D.S. al Fine',
  'd.s.alcoda': 'D.S. al Coda',
};

/**
 * A repeat sign that closes what nothing opened goes back to the latest double bar line, if there is one since the repeat
 * before. Source: ABC notation 2.1, section 4.8. `bars` end with the one that it closes, which
 * stands under `ending`.
 */
export function startAfterDouble(bars: readonly SketchBar[], ending: SketchBar['opensEnding']): void {
  const last = bars.length - 1;
  if (ending !== null && !ending.includes(1)) return;
  for (let index = last; index >= 0; index -= 1) {
    const bar = bars[index]!;
    if (index < last && bar.repeatEnd) return;
    if (index < last && bar.doubleBar) bars[index + 1]!.repeatStart = true;
    if (bar.repeatStart || bars[index + 1]?.repeatStart) return;
  }
}
