// Ending brackets of finished bars.
import type { ChartBar } from './types';

type Bracketed = Pick<ChartBar, 'ending'>;

/**
 * True when a bar stands under the same ending bracket as the bar before it. Double bar lines and repeats of their own may
 * stand inside a bracket.
 */
export const goesOnUnder = (before: Bracketed | undefined, bar: Bracketed): boolean =>
  before !== undefined &&
  before.ending !== null &&
  bar.ending !== null &&
  before.ending.join() === bar.ending.join();

/**
 * True where an ending and a repeat begin with one bar and the repeat lies inside the ending: another ending of the same
 * repeat stands before it, or a repeat is open there.
 */
export function repeatsInsideEnding(
  bars: readonly Pick<ChartBar, 'ending' | 'repeatStart' | 'repeatEnd'>[],
  index: number,
): boolean {
  const bar = bars[index]!;
  const before = bars[index - 1];
  if (!bar.repeatStart || bar.ending === null || before === undefined || goesOnUnder(before, bar))
    return false;
  if (before.ending !== null) return !bar.ending.includes(1);
  for (let place = index - 1; place >= 0; place -= 1) {
    if (bars[place]!.repeatEnd !== null) return false;
    if (bars[place]!.repeatStart) return true;
  }
  return false;
}
