// Chord symbols that stand at one place of a score though none is called an alternative: writers that know no offset put
// the two chords of a whole note so.
import type { SketchChord } from './sketch';

const nameOf = ({ chord }: SketchChord): string => chord?.symbol ?? 'N.C.';

/** The chords that are meant, each once: symbols of several staves say the same twice. */
function different(chords: readonly SketchChord[]): SketchChord[] {
  const names = new Set<string>();
  return chords.filter((chord) => {
    if (chord.isAlternate) return true;
    const isNew = !names.has(nameOf(chord));
    names.add(nameOf(chord));
    return isNew;
  });
}

/**
 * Chords with a place of their own each: those that stood at one share the time until the note under them ends or the next
 * chord begins.
 * @param noteEnds where the note ends that begins at a tick
 * @returns the chords, and how many were moved
 */
export function sharedPlaces(
  chords: readonly SketchChord[],
  noteEnds: ReadonlyMap<number, number>,
  barLength: number,
): { readonly chords: SketchChord[]; readonly count: number } {
  const ticks = [...new Set(chords.map(({ tick }) => tick))].sort((a, b) => a - b);
  let count = 0;
  const placed = ticks.flatMap((tick, index) => {
    const own = different(chords.filter((chord) => chord.tick === tick));
    const main = own.filter(({ isAlternate }) => !isAlternate);
    const end = Math.min(ticks[index + 1] ?? barLength, noteEnds.get(tick) ?? barLength);
    if (main.length < 2 || end - tick < main.length) return own;
    count += main.length - 1;
    return own.map((chord) => {
      const place = Math.max(main.indexOf(chord), 0);
      return { ...chord, tick: tick + Math.round((place * (end - tick)) / main.length) };
    });
  });
  return { chords: placed, count };
}
