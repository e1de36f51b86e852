// Chords at places of their own: `C7 F7@2.75`.
import type { Meter } from '../../music';
import type { Diagnostics } from './diagnostics';
import { barTicks, beatTicks, beatsInBar, meterText } from './meter';
import type { ChordPlace, Places } from './places';
import type { Span } from './types';

/** A chord with its length. */
export interface Measured {
  readonly place: ChordPlace;
  readonly ticks: number;
}

/** Where each of some chords begins, in ticks of the bar; chords without a place share the time between those with one. */
function startsOf(
  places: readonly ChordPlace[],
  meter: Meter,
  length: number,
  problems: Diagnostics,
): number[] {
  const missing = barTicks(meter) - length;
  const starts: number[] = [];
  let waiting = 0;
  const settle = (end: number): void => {
    const from = starts.at(-1) ?? 0;
    const count = waiting + (starts.length > 0 ? 1 : 0);
    const first = starts.length > 0 ? 1 : 0;
    for (let index = 0; index < waiting; index += 1) {
      starts.push(from + Math.round(((index + first) * (end - from)) / count));
    }
    waiting = 0;
  };
  for (const [index, { beat, beatSpan }] of places.entries()) {
    const start = beat === undefined ? null : Math.round(beat * beatTicks(meter)) - missing;
    // Every chord needs at least a tick, also those before and after it that have no place.
    const least = (starts.at(-1) ?? -1) + 1 + waiting;
    const most = length - (places.length - index);
    if (start === null || start < least || start > most) {
      if (beatSpan !== undefined)
        problems.add('place-wrong', beatSpan, { beats: beatsInBar(meter), meter: meterText(meter) });
      waiting += 1;
      continue;
    }
    settle(start);
    starts.push(start);
  }
  settle(length);
  return starts;
}

/** The chord before, going on. */
const heldPlace = (span: Span): ChordPlace => ({
  chord: undefined,
  alternates: [],
  optional: false,
  span,
  beats: 0,
  shorts: 0,
  own: 0,
});

/** Chords at places of their own: each lasts until the next, and the chord before the bar until the first. */
export function byPlace(
  { places, byBeat }: Places,
  meter: Meter,
  length: number,
  problems: Diagnostics,
): readonly Measured[] {
  const kept = places.slice(0, length);
  const starts = startsOf(kept, meter, length, problems);
  const [first] = kept;
  if (byBeat && first !== undefined) problems.add('place-with-slashes', first.span);
  const ahead =
    first !== undefined && starts[0]! > 0 ? [{ place: heldPlace(first.span), ticks: starts[0]! }] : [];
  return [
    ...ahead,
    ...kept.map((place, index) => ({ place, ticks: (starts[index + 1] ?? length) - starts[index]! })),
  ];
}
