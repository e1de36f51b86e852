// Where the hand goes through open strings: to the place of the next stopped note, through however many of them. Whoever says or
// draws where the hand goes next takes it from here, so that all of them name one place.
//
// The solver gives an open string a place, too: where the hand is when it ends. Within a run of open strings that is only how
// the work is shared out between them, and nothing that is held.
import { isOpenString, type HandPosition, type Placement } from '../../instrument';
import type { Carry, LineNote } from './types';

type Held = Pick<LineNote, 'placement'>;
/** A note as it is told. */
type Told = Pick<LineNote, 'placement' | 'carry' | 'tick' | 'ticks'>;

/** Index of the first note from `index` on that is stopped, before `end`; undefined when there is none. */
function stoppedFrom(notes: readonly Held[], index: number, end: number): number | undefined {
  for (let at = index; at < end; at++) if (!isOpenString(notes[at]!.placement)) return at;
  return undefined;
}

/**
 * The place that the hand is in at a note: of a stopped note its own, of an open string that of the next stopped one. What ends
 * at `end` goes round to `first`; where no note is stopped, the open string's own place is all there is.
 */
export function placeAt(
  notes: readonly Held[],
  index: number,
  first = 0,
  end = notes.length,
): HandPosition | undefined {
  const next = stoppedFrom(notes, index, end) ?? stoppedFrom(notes, first, Math.min(index, end));
  return notes[next ?? index]?.placement.position;
}

/** The place that the hand goes to after a note: that of the next stopped one; undefined after the last of a line that ends. */
export function nextPlace(
  notes: readonly Held[],
  index: number,
  goesRound: boolean,
): HandPosition | undefined {
  const next =
    stoppedFrom(notes, index + 1, notes.length) ?? (goesRound ? stoppedFrom(notes, 0, index + 1) : undefined);
  return next === undefined ? undefined : notes[next]!.placement.position;
}

/**
 * What each note does for the hand: null for a stopped one, and for an open string where the hand stays. Each open string of a
 * run has the same. At the end of a line that does not go round the hand goes where the last open string has it.
 */
export function carriesOf(placements: readonly Placement[], goesRound: boolean): readonly (Carry | null)[] {
  const notes = placements.map((placement) => ({ placement }));
  let from: HandPosition | undefined;
  return notes.map((note, index) => {
    if (!isOpenString(note.placement)) {
      from = note.placement.position;
      return null;
    }
    if (from === undefined) return null;
    const lastOpen = notes.at(-1)!.placement.position;
    const to = nextPlace(notes, index, goesRound) ?? lastOpen;
    return from === to ? null : { from, to };
  });
}

const isSame = (a: LineNote['carry'], b: LineNote['carry']): boolean =>
  a !== null && b !== null && a.from === b.from && a.to === b.to;

/** True of the open string with which the hand leaves: the first of those that carry it together. */
export const beginsCarry = (notes: readonly Pick<LineNote, 'carry'>[], index: number): boolean => {
  const carry = notes[index]?.carry ?? null;
  return carry !== null && !isSame(carry, notes[index - 1]?.carry ?? null);
};

/** First and last index of the open strings that carry the hand together with the one at `index`. */
export function carriedRun(
  notes: readonly Pick<LineNote, 'carry'>[],
  index: number,
): { readonly first: number; readonly last: number } {
  const carry = notes[index]?.carry ?? null;
  let [first, last] = [index, index];
  while (isSame(carry, notes[first - 1]?.carry ?? null)) first--;
  while (isSame(carry, notes[last + 1]?.carry ?? null)) last++;
  return { first, last };
}

/**
 * Where the hand is when a note begins and when it ends, in semitones from the nut to the first finger. While open strings
 * carry it, it goes evenly from one place to the other.
 */
export function handWay(
  notes: readonly Told[],
  index: number,
): { readonly from: number; readonly to: number } {
  const note = notes[index]!;
  const { carry } = note;
  if (carry === null) return { from: note.placement.position, to: note.placement.position };
  const { first, last } = carriedRun(notes, index);
  const start = notes[first]!.tick;
  const end = notes[last + 1]?.tick ?? notes[last]!.tick + notes[last]!.ticks;
  const placeOn = (tick: number): number =>
    carry.from + ((carry.to - carry.from) * (tick - start)) / (end - start);
  return { from: placeOn(note.tick), to: index === last ? carry.to : placeOn(notes[index + 1]!.tick) };
}
