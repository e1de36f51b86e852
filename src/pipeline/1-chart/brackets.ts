// Ending brackets of finished bars.
import type { ChartBar } from './types';

/** True when a bar stands under the same ending bracket as the bar before it. */
export function goesOnUnder(before: ChartBar | undefined, bar: ChartBar): boolean {
  if (before === undefined || before.ending === null || bar.ending === null) return false;
  if (before.repeatEnd !== null || before.doubleBar || bar.repeatStart) return false;
  return before.ending.join() === bar.ending.join();
}
