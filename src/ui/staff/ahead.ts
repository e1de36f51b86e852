// Reading ahead: which line of music comes next, and whether there is room to show it beside the one that is played.
import { barIndex, type BarIndex } from '../../music';
import type { SystemLayout } from '../../notation';
import { heightOf, systemGap } from './shapes';

/** First and last bar of what goes round. */
export interface RoundBars {
  readonly from: BarIndex;
  readonly to: BarIndex;
}

type Bars = Pick<SystemLayout, 'index' | 'firstBar' | 'lastBar'>;

/** Index of the system that a bar stands in, null when there is none. */
export const systemWith = (systems: readonly Bars[], bar: BarIndex): number | null =>
  systems.find(({ firstBar, lastBar }) => bar >= firstBar && bar <= lastBar)?.index ?? null;

/** Index of the system that is read after one: the next, or the one where the music comes round. */
export function systemAfter(
  systems: readonly Bars[],
  active: number,
  round: RoundBars | null,
): number | null {
  const now = systems[active];
  if (now === undefined) return null;
  const turns = round !== null && round.to >= now.firstBar && round.to <= now.lastBar;
  if (turns || active === systems.length - 1) return systemWith(systems, round?.from ?? barIndex(0));
  return active + 1;
}

/** Pixels from the top of one system to the bottom of another, with strips of a height under them. */
export function heightFrom(
  systems: readonly SystemLayout[],
  one: number,
  other: number,
  strip: number,
): number {
  const run = systems.slice(Math.min(one, other), Math.max(one, other) + 1);
  return run.reduce((sum, system) => sum + heightOf(system) + strip, 0) + systemGap * (run.length - 1);
}

/** Whether any line of music and the one after it can be seen together; one alone needs no more than itself. */
export const seesAhead = (systems: readonly SystemLayout[], strip: number, room: number): boolean =>
  systems.every(
    (_, index) => heightFrom(systems, index, Math.min(index + 1, systems.length - 1), strip) <= room,
  );
