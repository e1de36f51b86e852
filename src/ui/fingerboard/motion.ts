// When the hand moves while a note sounds. It arrives with the note, stays, and leaves in time for the next: a bare shift
// takes the tail of the note before it, a carry takes as long as the open string rings.
import { secondsOf, type Bpm } from '../../music';
import type { Line, LineNote } from '../../pipeline';
import { handStateAfter, handStateOf, type HandState } from './hand';

/** One stretch of the hand's way, in seconds from the start of the note. */
export interface HandStep {
  readonly to: HandState;
  readonly start: number;
  readonly duration: number;
  /** Glides over an open string, slides under a stopped one. */
  readonly covered: boolean;
}

/** A hand that is late is put right within this time. */
const catchUp = 0.07;
/** How fast the hand follows a selection made by hand. */
const lookUp = 0.24;

const lasting = (note: LineNote, tempo: Bpm): number => secondsOf(note.ticks, tempo);

/**
 * The hand's way while note `index` sounds, steps in order and not overlapping.
 * @param from where the hand is now
 */
export function handSteps(line: Line, index: number, tempo: Bpm, from: HandState): readonly HandStep[] {
  const note = line.notes[index];
  if (note === undefined) return [];
  const duration = lasting(note, tempo);
  const here = handStateAfter(line, index);
  const steps: HandStep[] = [];
  if (from.position !== here.position) {
    const time = here.lifted ? Math.min(note.move.time || duration, duration) : Math.min(catchUp, duration);
    steps.push({ to: here, start: 0, duration: time, covered: here.lifted });
  }
  const next = line.notes[index + 1];
  if (next === undefined) return steps;
  const there = handStateAfter(line, index + 1);
  // Over an open string that comes next, the hand leaves only when that string rings.
  if (there.lifted || there.position === here.position) return steps;
  const busy = steps[0]?.duration ?? 0;
  const room = Math.max(duration - busy, 0);
  const time = here.lifted ? room : Math.min(next.move.time || catchUp, room);
  if (time > 0) steps.push({ to: there, start: duration - time, duration: time, covered: here.lifted });
  return steps;
}

/** The hand's way to a note that is only looked at. */
export function lookSteps(line: Line, index: number, from: HandState): readonly HandStep[] {
  const note = line.notes[index];
  if (note === undefined) return [];
  const to = handStateOf(note);
  return to.position === from.position ? [] : [{ to, start: 0, duration: lookUp, covered: false }];
}
