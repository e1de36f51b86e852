// What the critic counts note by note.
import type { CriticNote } from './notes';

type NoteCount = (notes: readonly CriticNote[], index: number) => boolean;

const isStep = (step: number | null): boolean => step !== null && step !== 0 && Math.abs(step) <= 2;
const isMore = (step: number | null, than: number): boolean => step !== null && Math.abs(step) > than;
const isStrong = ({ slot }: CriticNote): boolean => slot.isChange || slot.strength === 3;

/** Passes by step on the way it came. */
const passes = ({ into, out }: CriticNote): boolean => isStep(into) && isStep(out) && into! * out! > 0;

/** Steps into target that are weak: third, tritone, sixth, seventh. */
const weakSizes = [3, 4, 6, 8, 9, 10, 11];

/** The steps into the last `count` notes up to one; null where a rest parts them. */
function stepsUpTo(notes: readonly CriticNote[], index: number, count: number): readonly number[] | null {
  const steps = notes.slice(Math.max(0, index - count + 1), index + 1).map(({ into }) => into);
  return steps.length === count && steps.every((step): step is number => step !== null) ? steps : null;
}

export const noteCounts = {
  'left by leap': (notes, i) => !notes[i]!.isChordNote && (isMore(notes[i]!.out, 2) || notes[i]!.out === 0),
  'outside left by leap': (notes, i) => notes[i]!.tone === 'chrom' && isMore(notes[i]!.out, 2),
  'strong outside': (notes, i) => isStrong(notes[i]!) && !notes[i]!.isChordNote,
  'strong outside unresolved': (notes, i) =>
    isStrong(notes[i]!) && !notes[i]!.isChordNote && !(isStep(notes[i]!.out) && notes[i + 1]!.isChordNote),
  'chord begun elsewhere': (notes, i) =>
    notes[i]!.slot.isChange && !['root', 'third', 'fifth'].includes(notes[i]!.tone),
  'denied on a strong beat': (notes, i) =>
    notes[i]!.denies && (isStrong(notes[i]!) || (notes[i]!.slot.strength === 2 && !passes(notes[i]!))),
  repeat: (notes, i) => notes[i]!.into === 0 && notes[i]!.slot.isPedal !== true,
  seesaw: (notes, i) =>
    i >= 3 &&
    notes[i]!.into !== 0 &&
    notes[i]!.midi === notes[i - 2]!.midi &&
    notes[i - 1]!.midi === notes[i - 3]!.midi,
  'three of five': (notes, i) =>
    i >= 4 && notes.slice(i - 4, i + 1).filter(({ midi }) => midi === notes[i]!.midi).length >= 3,
  // Patterns of root and fifth live by it.
  'third time': (notes, i) =>
    notes[i]!.into === 0 &&
    notes[i - 1]?.into === 0 &&
    notes[i]!.slot.isPedal !== true &&
    notes[i]!.slot.confinedTo === undefined,
  zigzag: (notes, i) => {
    const steps = stepsUpTo(notes, i, 4);
    if (!steps || !steps.every((step, k) => step !== 0 && (k === 0 || step * steps[k - 1]! < 0)))
      return false;
    const chordNotes = notes.slice(i - 4, i + 1).filter(({ isChordNote }) => isChordNote).length;
    return steps.filter((step) => Math.abs(step) >= 3).length >= 2 && chordNotes < 4;
  },
  'weak approach': (notes, i) =>
    notes[i]!.slot.isTarget && notes[i]!.into !== null && weakSizes.includes(Math.abs(notes[i]!.into)),
  'downbeat anticipated': (notes, i) => notes[i]!.slot.strength === 3 && notes[i]!.into === 0,
  'leap not turned back': (notes, i) => {
    const { into, out } = notes[i]!;
    return isMore(into, 6) && Math.abs(into!) !== 12 && isMore(out, 2) && into! * out! > 0;
  },
  'wide double leap': (notes, i) => {
    const { into, out } = notes[i]!;
    return isMore(into, 4) && isMore(out, 4) && into! * out! > 0 && Math.abs(into! + out!) > 12;
  },
  'section not entered': (notes, i) => {
    const { slot, into, isRoot } = notes[i]!;
    if (i === 0 || (slot.phrase !== 'section' && slot.phrase !== 'top')) return false;
    return !isRoot || !(isStep(into) || into === 5 || into === -7);
  },
  'octave there and back': (notes, i) =>
    Math.abs(notes[i]!.into ?? 0) === 12 && notes[i]!.out === -notes[i]!.into!,
} satisfies Record<string, NoteCount>;

/** Chords of two beats and more that a line leaves unspoken. */
export function unspokenChords(notes: readonly CriticNote[]): number {
  let count = 0;
  let first = 0;
  for (let i = 1; i <= notes.length; i++) {
    const after = notes[i];
    if (after && after.slot.harmony.chord?.symbol === notes[first]!.slot.harmony.chord?.symbol) continue;
    const own = notes.slice(first, i);
    const hears = (tone: CriticNote['tone']): boolean => own.some((note) => note.tone === tone);
    if (own.length >= 2 && !hears('root') && !(hears('third') && hears('fifth'))) count++;
    first = i;
  }
  return count;
}
