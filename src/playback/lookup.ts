// From a moment to what is heard at it, by binary search.
import type { NoteSpan, Schedule } from './types';

/** Index of the last span that starts at or before the tick; -1 when none does. `spans` sorted by start. */
export function lastStartedAt(spans: readonly { readonly start: number }[], tick: number): number {
  let low = -1;
  let high = spans.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (spans[middle]!.start <= tick) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Index of the first item at or after the tick; the length when none is. `events` sorted by tick. */
export function firstAtOrAfter(events: readonly { readonly tick: number }[], tick: number): number {
  let low = 0;
  let high = events.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (events[middle]!.tick < tick) low = middle + 1;
    else high = middle;
  }
  return low;
}

export interface Heard {
  /** Index of the line's note; null where the bass rests. */
  readonly noteIndex: number | null;
  readonly bar: number;
  readonly chorus: number;
}

/** What sounds at a tick of the form. Before the form it is its first bar, beyond its end the last. */
export function noteAt(schedule: Pick<Schedule, 'notes' | 'bars'>, tick: number): Heard {
  const span: NoteSpan | undefined = schedule.notes[lastStartedAt(schedule.notes, tick)];
  const bar = Math.max(0, lastStartedAt(schedule.bars, tick));
  return {
    noteIndex: span && tick < span.end ? span.note : null,
    bar,
    chorus: schedule.bars[bar]?.chorus ?? 0,
  };
}
