// From a moment to what is heard at it, by binary search.
import { ticks, barIndex, type BarIndex } from '../music';
import type { BassEvent, NoteSpan, Schedule } from './types';

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
  readonly bar: BarIndex;
  readonly chorus: number;
}

/** What sounds at a tick of the form. Before the form it is its first bar, beyond its end the last. */
export function noteAt(schedule: Pick<Schedule, 'notes' | 'bars'>, tick: number): Heard {
  const span: NoteSpan | undefined = schedule.notes[lastStartedAt(schedule.notes, tick)];
  const bar = barIndex(Math.max(0, lastStartedAt(schedule.bars, tick)));
  return {
    noteIndex: span && tick < span.end ? span.note : null,
    bar,
    chorus: schedule.bars[bar]?.chorus ?? 0,
  };
}

/** Whether the bass rests at a tick for the person to play: every second round, counted through passes and choruses. */
export function isYourTurn(schedule: Schedule, pass: number, tick: number): boolean {
  if (!schedule.yourTurn) return false;
  const chorus = schedule.roundsPerPass > 1 ? noteAt(schedule, tick).chorus : 0;
  return (pass * schedule.roundsPerPass + chorus) % 2 === 1;
}

/**
 * The bass note that began before a tick and still sounds there, as struck at that tick: playing that begins in mid-note
 * (a loop whose first bar was anticipated) has its bass from the first beat. Undefined where a note begins or none sounds.
 */
export function heldInto(schedule: Schedule, tick: number): BassEvent | undefined {
  const span = schedule.notes[lastStartedAt(schedule.notes, tick)];
  if (!span || span.start >= tick || span.end <= tick) return undefined;
  const held = schedule.events
    .slice(firstAtOrAfter(schedule.events, span.start))
    .find((event): event is BassEvent => event.part === 'bass' && event.note === span.note);
  return held && held.damp > tick ? { ...held, tick: ticks(tick), attack: 0 } : undefined;
}
