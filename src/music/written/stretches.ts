// Notes laid out bar by bar: every tick of a bar belongs to a note or to a rest.
import type { BarStretch } from './values';

/** Ticks from the start of the form. */
export interface Sounding {
  readonly start: number;
  readonly end: number;
}

/** A stretch of a bar and the note that sounds in it, by its place in the list; null for a rest. */
export interface FilledStretch extends BarStretch {
  readonly note: number | null;
}

interface BarPlace {
  readonly tick: number;
  readonly ticks: number;
}

function fillBar(bar: BarPlace, notes: readonly Sounding[], first: number): readonly FilledStretch[] {
  const stretches: FilledStretch[] = [];
  let at = 0;
  const restUpTo = (tick: number): void => {
    if (tick > at) stretches.push({ start: at, end: tick, isRest: true, note: null });
  };
  for (let note = first; note < notes.length && notes[note]!.start < bar.tick + bar.ticks; note += 1) {
    const start = Math.max(at, notes[note]!.start - bar.tick);
    const end = Math.min(notes[note]!.end - bar.tick, bar.ticks);
    if (end <= start) continue;
    restUpTo(start);
    stretches.push({ start, end, isRest: false, note });
    at = end;
  }
  restUpTo(bar.ticks);
  return stretches;
}

/** Cuts notes, in order and one at a time, at the bar lines, and fills what is left with rests. */
export function barStretches(
  bars: readonly BarPlace[],
  notes: readonly Sounding[],
): readonly (readonly FilledStretch[])[] {
  let first = 0;
  return bars.map((bar) => {
    while (first < notes.length && notes[first]!.end <= bar.tick) first += 1;
    return fillBar(bar, notes, first);
  });
}
