// What each note is for, read from the harmony and the notes around it.
import { pitchClass, pitchClassOf, type SoundingMidi } from '../../music';
import type { Placement } from '../../instrument';
import { isOrnament, type Slot, type TimelineChord } from '../2-timeline';
import { leadsIntoTarget, toneClass } from './features';
import type { Role } from './types';

/**
 * The nearest note before (-1) or after (1) that is a note of its own: ghosts, drops and triplets adorn the line and are
 * not what a note leads to or comes from.
 */
export function neighbourOf<T extends { readonly slot: Slot }>(
  steps: readonly T[],
  index: number,
  direction: -1 | 1,
): number | null {
  for (let other = index + direction; other >= 0 && other < steps.length; other += direction) {
    if (!isOrnament(steps[other]!.slot.articulation)) return other;
  }
  return null;
}

/** A note with its neighbours; the last note of the form looks ahead to the top. */
export interface NoteContext {
  readonly slot: Slot;
  readonly placement: Placement;
  readonly before: SoundingMidi | null;
  readonly after: SoundingMidi | null;
}

/** The degree a pitch has in a chord, undefined when it is no chord tone. */
export function degreeIn(harmony: TimelineChord, midi: SoundingMidi): number | undefined {
  const wanted = pitchClass(midi);
  return harmony.chord?.tones.find((tone) => tone.pitchClass === wanted)?.degree;
}

const bassOf = (harmony: TimelineChord): number | undefined =>
  harmony.chord ? pitchClassOf(harmony.chord.bass ?? harmony.chord.root) : undefined;

/** The next note is the bass of its chord. */
const nextIsRoot = (slot: Slot, after: SoundingMidi): boolean =>
  bassOf(slot.nextHarmony) === pitchClass(after);

function approachRole({ slot, placement, after }: NoteContext): Role | undefined {
  if (after === null || !leadsIntoTarget(slot)) return undefined;
  const step = after - placement.midi;
  const isOwnRoot = toneClass(slot.harmony, placement.midi) === 'root';
  if (Math.abs(step) === 1 && !isOwnRoot) return step > 0 ? 'approach from below' : 'approach from above';
  if (nextIsRoot(slot, after) && slot.nextIsChange && (step === 5 || step === -7)) return 'dominant approach';
  if (Math.abs(step) === 2 && !isOwnRoot && degreeIn(slot.harmony, placement.midi) === undefined) {
    return 'scale approach';
  }
  return undefined;
}

function chordRole({ slot, placement }: NoteContext): Role | undefined {
  const { chord } = slot.harmony;
  if (!chord) return undefined;
  if (pitchClass(placement.midi) === bassOf(slot.harmony))
    return chord.bass === null ? 'root' : 'bass of the chord';
  switch (degreeIn(slot.harmony, placement.midi)) {
    case undefined:
      return undefined;
    case 1:
      return 'root';
    case 3:
      return 'third';
    case 5:
      return 'fifth';
    case 6:
      return 'sixth';
    case 7:
      return 'seventh';
    default:
      return 'chord tone';
  }
}

function lineRole({ slot, placement, before, after }: NoteContext): Role {
  const { midi } = placement;
  const isInside = toneClass(slot.harmony, midi) !== 'chrom';
  if (before !== null && after !== null) {
    const arrives = midi - before;
    const leaves = after - midi;
    const isStepwise = Math.abs(arrives) <= 2 && Math.abs(leaves) <= 2;
    if (isStepwise && arrives * leaves > 0) return 'passing note';
    if (isStepwise && after === before && arrives !== 0) return 'neighbour';
  }
  if (isInside) return 'scale step';
  if (placement.finger === '0') return 'open string passing';
  if (after !== null && Math.abs(after - midi) === 1) {
    return after > midi ? 'approach from below' : 'approach from above';
  }
  return 'passing note';
}

/** The role of a note: approach into a bar or chord first, then its place in the chord, then its place in the line. */
export const roleOf = (context: NoteContext): Role =>
  approachRole(context) ?? chordRole(context) ?? lineRole(context);
