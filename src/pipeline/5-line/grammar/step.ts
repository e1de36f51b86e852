// What the rules of the line look at: a step between two notes, reduced to what matters. Steps that agree in it obey the same
// rules at the same cost, and share one row of the automaton.
import { pitchClass, pitchClassOf, type SoundingMidi } from '../../../music';
import { isOrnament, type Slot } from '../../2-timeline';
import { toneClass, type ToneClass } from '../features/degree';
import { deniesChord } from './avoid';
import { enclosingSizes, sizeOf, type ReadStep } from './memory';

export const standings = ['chord', 'scale', 'outside'] as const;
/** What a note is to its chord: one of its tones, a note of its scale, neither. */
export type Standing = (typeof standings)[number];

const standingOf = (tone: ToneClass): Standing =>
  tone === 'chrom' ? 'outside' : tone === 'scale' ? 'scale' : 'chord';

export const manners = ['walks', 'holds', 'adorns', 'repeats a pedal', 'patterns'] as const;
/**
 * How a step is judged: as walking; between long notes of a two-feel; into or out of an ornament; a bass that stays while
 * chords change; within a pattern of root and fifth.
 */
export type Manner = (typeof manners)[number];

export interface Step extends ReadStep {
  readonly manner: Manner;
  readonly from: Standing;
  readonly to: Standing;
  /** The note that is reached stands right before a target. */
  readonly toLastBeforeTarget: boolean;
  /** The note left denies its chord where it stands, and is heard only in passing. */
  readonly fromDenies: boolean;
  /** The note reached is the bass of a chord. */
  readonly toRoot: boolean;
  /** The two notes of a short chord are neither its root nor its third and fifth together. */
  readonly leavesUnspoken: boolean;
  /** Two notes before a target: the first side of an enclosure. */
  readonly toFirstSide: boolean;
  /** The note left belongs to the chord or the scale of the target that the step leads into. */
  readonly fromFitsTarget: boolean;
}

function mannerOf(slot: Slot, next: Slot, from: SoundingMidi, to: SoundingMidi): Manner {
  if (slot.isPedal === true && from === to) return 'repeats a pedal';
  if (slot.confinedTo !== undefined && next.confinedTo !== undefined) return 'patterns';
  const fallsOut = slot.articulation === 'drop' || slot.articulation === 'triplet';
  if (fallsOut || isOrnament(next.articulation)) return 'adorns';
  return slot.isSustained === true || next.isSustained === true ? 'holds' : 'walks';
}

/**
 * From the first side of an enclosure to the second, where that is the only sense the step makes: the first side is no chord
 * tone, and is left by more than it may be otherwise: outside chord and scale by a whole tone, in the scale by a third. The
 * target itself is no side of an enclosure.
 */
function goesAcross(slot: Slot, from: Standing, step: number): boolean {
  if (slot.isTarget || from === 'chord') return false;
  const size = sizeOf(step);
  return enclosingSizes.includes(size) && (from === 'outside' ? size === 2 : size > 2);
}

function leavesUnspoken(slot: Slot, next: Slot, from: ToneClass, to: ToneClass): boolean {
  const isShort = slot.isChange && !next.isTarget && next.untilTarget === 1 && next.nextIsChange;
  if (!isShort || from === 'root' || to === 'root') return false;
  return !((from === 'third' && to === 'fifth') || (from === 'fifth' && to === 'third'));
}

/** What a step owes to the note it leaves alone. */
interface Leaving {
  readonly tone: ToneClass;
  readonly denies: boolean;
  readonly fitsTarget: boolean;
}

const leaving = (slot: Slot, next: Slot, from: SoundingMidi): Leaving => ({
  tone: toneClass(slot.harmony, from),
  denies: slot.strength >= 2 && deniesChord(slot.harmony, from),
  fitsTarget: next.isTarget && toneClass(next.harmony, from) !== 'chrom',
});

/** And to the note it reaches. */
interface Reaching {
  readonly tone: ToneClass;
  readonly isRoot: boolean;
}

const reaching = ({ harmony }: Slot, to: SoundingMidi): Reaching => {
  const { chord } = harmony;
  const isRoot = chord !== null && pitchClassOf(chord.bass ?? chord.root) === pitchClass(to);
  return { tone: toneClass(harmony, to), isRoot };
};

/**
 * The steps between any two notes of two slots.
 * @param next the slot that follows at once, the return to the top included
 */
export function stepsFrom(slot: Slot, next: Slot): (from: SoundingMidi, to: SoundingMidi) => Step {
  const left = new Map<SoundingMidi, Leaving>();
  const reached = new Map<SoundingMidi, Reaching>();
  const toFirstSide = !next.isTarget && next.untilTarget === 2;
  const toLastBeforeTarget = !next.isTarget && next.untilTarget === 1;
  return (from, to) => {
    let start = left.get(from);
    if (!start) left.set(from, (start = leaving(slot, next, from)));
    let end = reached.get(to);
    if (!end) reached.set(to, (end = reaching(next, to)));
    const standing = standingOf(start.tone);
    return {
      step: to - from,
      manner: mannerOf(slot, next, from, to),
      from: standing,
      to: standingOf(end.tone),
      fromTarget: slot.isTarget,
      toTarget: next.isTarget,
      toLastBeforeTarget,
      encloses: toLastBeforeTarget && goesAcross(slot, standing, to - from),
      fromDenies: start.denies,
      toRoot: end.isRoot,
      leavesUnspoken: leavesUnspoken(slot, next, start.tone, end.tone),
      toFirstSide,
      fromFitsTarget: start.fitsTarget,
    };
  };
}

/** One step. @param next as for `stepsFrom` */
export const stepBetween = (slot: Slot, next: Slot, from: SoundingMidi, to: SoundingMidi): Step =>
  stepsFrom(slot, next)(from, to);

const index = <T>(values: readonly T[], value: T): number => values.indexOf(value);
const bit = (value: boolean): number => (value ? 1 : 0);

/** The largest step told apart from larger ones. */
const mostStep = 13;

/** A number for everything about a step: equal for steps that agree. */
export function stepNumber(step: Step): number {
  const size = Math.max(-mostStep, Math.min(mostStep, step.step)) + mostStep;
  const flags =
    bit(step.fromTarget) * 256 +
    bit(step.toTarget) * 128 +
    bit(step.toLastBeforeTarget) * 64 +
    bit(step.encloses) * 32 +
    bit(step.fromDenies) * 16 +
    bit(step.toRoot) * 8 +
    bit(step.leavesUnspoken) * 4 +
    bit(step.toFirstSide) * 2 +
    bit(step.fromFitsTarget);
  const kinds =
    (index(manners, step.manner) * 3 + index(standings, step.from)) * 3 + index(standings, step.to);
  return (kinds * 512 + flags) * (2 * mostStep + 1) + size;
}
