// Pedal points: a bass that a slash asks for and that stays while the chords above it change.
import { pitchClassOf, type Chord } from '../../music';
import type { TimelineBar, TimelineChord } from './types';

/** Pitch class of the bass asked for. */
const bassOf = (chord: Chord): number => pitchClassOf(chord.bass ?? chord.root);

/** The chords that stand over a pedal. Linear in the number of chords. */
export function pedalsOf(bars: readonly TimelineBar[]): ReadonlySet<TimelineChord> {
  const pedals = new Set<TimelineChord>();
  let run: TimelineChord[] = [];
  const settle = (): void => {
    const isAsked = run.some(({ chord }) => chord?.bass);
    const changes = run.some(({ chord }) => chord?.symbol !== run[0]!.chord?.symbol);
    if (isAsked && changes) for (const harmony of run) pedals.add(harmony);
    run = [];
  };
  for (const harmony of bars.flatMap(({ chords }) => chords)) {
    const before = run[0]?.chord;
    const { chord } = harmony;
    if (chord === null || (before && bassOf(before) !== bassOf(chord))) settle();
    if (chord !== null) run.push(harmony);
  }
  settle();
  return pedals;
}
