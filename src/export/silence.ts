// N.C. on a lead sheet: it stands where the silence begins, not in every bar of it.
import type { ChartBar } from '../pipeline/1-chart';

/** True where a bar begins with the silence that the bar before it, on the page, ended with. */
export function silenceGoesOn(bars: readonly ChartBar[], index: number): boolean {
  const [first] = bars[index]!.chords;
  const before = bars[index - 1]?.chords.at(-1);
  // A bar of a simile says what it repeats.
  const isOwn = bars[index]!.simile === null && first?.chord === null && first.alternates.length === 0;
  return isOwn && before?.chord === null;
}
