// Where a hand that moves or writes notes on the staff points to.
import { midiOf, onStaff, type Key, type SoundingMidi, type SpelledPitch } from '../../music';
import { otherHeadPlace, xOfTick, type SystemLayout } from '../../notation';
import type { Timeline } from '../../pipeline/2-timeline';
import type { LineNote } from '../../pipeline/5-line';

/** What can be done with notes by hand: ticks from the start of the music, pitches as they sound. */
export interface NoteEditing {
  /** `tick` is where it is to begin; null where it stays. */
  readonly move: (index: number, semitones: number, tick: number | null) => void;
  readonly add: (tick: number, ticks: number, midi: SoundingMidi) => void;
}

/** Pixels that a press may wander and still be no drag. */
export const dragFrom = 5;
/** Milliseconds that a finger rests on a note before it can be drawn: before that it scrolls. */
export const holdFor = 350;
/** Pixels sideways before a note leaves its moment: drawing straight up is never quite straight. */
const sidewaysFrom = 12;
/** Notes are written in on halves of a quarter. */
const grid = 240;
const quarter = 480;

/** The pitch a note comes to that is drawn up by some pixels. */
export const draggedPitch = (
  note: Pick<LineNote, 'pitch'>,
  up: number,
  { space, key }: { readonly space: number; readonly key: Key },
): SpelledPitch => {
  const steps = Math.round(up / (space / 2));
  return steps === 0 ? note.pitch : onStaff(note.pitch, steps, key);
};

/** The moment nearest to a point of a system at which notes are written in, counted within its bar; null outside the bars. */
function momentAt(x: number, system: Pick<SystemLayout, 'bars'>): number | null {
  const bar = system.bars.find((one) => x >= one.x && x < one.x + one.width);
  if (!bar) return null;
  const moments = Array.from({ length: Math.ceil(bar.ticks / grid) }, (_, at) => bar.tick + at * grid);
  const far = (tick: number): number => Math.abs(xOfTick(system, tick) - x);
  return moments.reduce((best, tick) => (far(tick) < far(best) ? tick : best), bar.tick);
}

/** Where a note begins that is drawn sideways by some pixels: itself where that is hardly far, or where another begins. */
export function draggedTick(
  note: Pick<LineNote, 'tick'>,
  along: number,
  system: Pick<SystemLayout, 'bars'>,
  notes: readonly Pick<LineNote, 'tick'>[],
): number {
  if (Math.abs(along) < sidewaysFrom) return note.tick;
  const tick = momentAt(xOfTick(system, note.tick) + along, system);
  return tick === null || notes.some((one) => one.tick === tick) ? note.tick : tick;
}

/** What is written in at a point of a system, in pixels from its corner; null outside the bars and on a note. */
export function writtenAt(
  { x, y }: { readonly x: number; readonly y: number },
  system: Pick<SystemLayout, 'bars' | 'staffTop'>,
  timeline: Timeline,
  notes: readonly LineNote[],
  space: number,
): { readonly tick: number; readonly ticks: number; readonly pitch: SpelledPitch } | null {
  const bar = system.bars.find((one) => x >= one.x && x < one.x + one.width);
  const own = bar && timeline.bars[bar.index];
  if (!bar || !own) return null;
  const tick = momentAt(x, system)!;
  if (notes.some((note) => note.tick === tick)) return null;
  const next = notes.find((note) => note.tick > tick)?.tick ?? Infinity;
  const ticks = Math.min(quarter, next - tick, bar.tick + bar.ticks - tick);
  const from: SpelledPitch = { name: own.key.tonic, octave: 1 };
  const { y: home } = otherHeadPlace(onStaff(from, 0, own.key), system.staffTop, space);
  return { tick, ticks, pitch: onStaff(from, Math.round((home - y) / (space / 2)), own.key) };
}

/** How far a dragged note goes. */
export const semitonesTo = (note: Pick<LineNote, 'midi'>, pitch: SpelledPitch): number =>
  midiOf(pitch) - note.midi;
