// The written critic: one number for a line, from what a listener would wince at or like. It judges whole lines, which no
// memory of a few notes can; of many takes that are drawn, the one with the least number is kept.
import table from '../../../../shared/grammar/critic.json' with { type: 'json' };
import type { Slot } from '../../2-timeline';
import { barCounts, countBars } from './bar-counts';
import { noteCounts, unspokenChords } from './note-counts';
import { criticBars, criticNotes } from './notes';

export type CountName = keyof typeof noteCounts | keyof typeof barCounts | 'chord unspoken';

/** Every name that is counted. */
export const countNames: readonly CountName[] = [
  ...(Object.keys(noteCounts) as (keyof typeof noteCounts)[]),
  ...(Object.keys(barCounts) as (keyof typeof barCounts)[]),
  'chord unspoken',
];

const weightOf = new Map(table.rows.map(({ count, weight }) => [count, weight]));

/** What a unit of the hand's cost counts beside a unit of these. */
export const handWeight = table.hand.weight;

/** How often each thing is met in a line. */
export function countsOf(slots: readonly Slot[], midis: ArrayLike<number>): ReadonlyMap<CountName, number> {
  const notes = criticNotes(slots, midis);
  const result = new Map<CountName, number>(
    Object.entries(countBars(criticBars(notes))) as [CountName, number][],
  );
  for (const name of Object.keys(noteCounts) as (keyof typeof noteCounts)[]) {
    result.set(name, notes.filter((_, index) => noteCounts[name](notes, index)).length);
  }
  return result.set('chord unspoken', unspokenChords(notes));
}

/** Weighted sum of what is met; the less the better. @throws Error for a count without a weight */
export function criticScore(slots: readonly Slot[], midis: ArrayLike<number>): number {
  let sum = 0;
  for (const [name, count] of countsOf(slots, midis)) {
    const weight = weightOf.get(name);
    if (weight === undefined) throw new Error(`the critic has no weight for "${name}"`);
    sum += weight * count;
  }
  return sum;
}
