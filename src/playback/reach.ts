// How far ahead of its sound an event is handed over.

/** Seconds between an event's being handed over and its sound: what a busy page may take without a gap. */
export const lookAhead = 0.15;
/** As far as a page that is slow to wake up may push it. */
const furthest = 0.8;

/**
 * How far ahead to work after a pulse came so late: three times as far as the longest gap of late, at once; back again by a
 * thousandth a pulse.
 * @param gap seconds since the pulse before
 */
export const reachAfter = (reach: number, gap: number): number =>
  Math.min(furthest, Math.max(lookAhead, 3 * gap, reach - (reach - lookAhead) / 1000));
