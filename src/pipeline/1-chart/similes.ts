// Bars that repeat what sounds before them: which bars those are, and whether a sign can stand for the chords.
import { goesOnUnder } from './brackets';
import { repeated } from './layout';
import { barTicks, isSameMeter } from './meter';
import type { ChartBar, ChartChord } from './types';

type Bracketed = Pick<ChartBar, 'ending'>;

/**
 * Index after the last of the bars that sound before this one: a later ending follows the bars before the first one, every
 * other bar the one it stands behind.
 */
export function endOfSoundingBefore(bars: readonly Bracketed[], index: number): number {
  const opens = (at: number): boolean => bars[at]!.ending !== null && !goesOnUnder(bars[at - 1], bars[at]!);
  if (!opens(index)) return index;
  let first = index;
  while (first > 0 && !bars[first]!.ending!.includes(1) && bars[first - 1]!.ending !== null) {
    first -= 1;
    while (!opens(first)) first -= 1;
  }
  return first;
}

const saysSame = (a: ChartChord, b: ChartChord): boolean =>
  a.chord?.symbol === b.chord?.symbol &&
  a.offset === b.offset &&
  a.length === b.length &&
  a.scale === b.scale &&
  a.optional === b.optional &&
  a.alternates.length === b.alternates.length &&
  a.alternates.every(({ symbol }, index) => symbol === b.alternates[index]!.symbol);

/** True when this bar has the chords of the other, cut or drawn out to its meter. */
function repeats(bar: ChartBar, source: ChartBar | undefined): boolean {
  if (source === undefined || bar.pickup) return false;
  const chords = repeated(source.chords, barTicks(bar.meter));
  return chords.length === bar.chords.length && chords.every((chord, at) => saysSame(chord, bar.chords[at]!));
}

/** True when nothing stands between two bars, so that one sign can say both. */
function isOneCell(first: ChartBar, second: ChartBar): boolean {
  const isOpen =
    !first.doubleBar && !first.fine && !first.toCoda && first.jump === null && first.repeatEnd === null;
  const goesOn =
    !second.repeatStart &&
    !second.segno &&
    !second.coda &&
    second.section === null &&
    second.keyChange === null &&
    isSameMeter(first.meter, second.meter);
  const isUnderOne = goesOnUnder(first, second) || (first.ending === null && second.ending === null);
  return isOpen && goesOn && isUnderOne;
}

/**
 * For every bar the sign that can stand for it: 1, or 2 on the first of two bars and "said" on the second; null where its
 * chords have to be written.
 */
export function similesOf(bars: readonly ChartBar[]): readonly (1 | 2 | 'said' | null)[] {
  const signs: (1 | 2 | 'said' | null)[] = bars.map(() => null);
  bars.forEach((bar, index) => {
    if (bar.simile === null || signs[index] !== null) return;
    const end = endOfSoundingBefore(bars, index);
    const next = bars[index + 1];
    if (bar.simile === 1) {
      if (repeats(bar, bars[end - 1])) signs[index] = 1;
    } else if (
      next?.simile === 2 &&
      isOneCell(bar, next) &&
      repeats(bar, bars[end - 2]) &&
      repeats(next, bars[end - 1])
    ) {
      signs[index] = 2;
      signs[index + 1] = 'said';
    }
  });
  return signs;
}
