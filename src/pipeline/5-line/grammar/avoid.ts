// Notes that deny a chord when they stand on a strong beat: a semitone above its root or third, the fourth over a major
// third, the third under a suspension, the other seventh or third than the chord has (common practice, no source).
import { getOrMake } from '../../../cache';
import { pitchClass, pitchClassOf, type SoundingMidi } from '../../../music';
import type { TimelineChord } from '../../2-timeline';

const known = new WeakMap<TimelineChord, ReadonlySet<number>>();

function denying({ chord }: TimelineChord): ReadonlySet<number> {
  if (chord === null) return new Set();
  const root = pitchClassOf(chord.root);
  // An altered dominant states neither fifth nor ninth: its choices of them count as its own. Of two degrees the first holds.
  const own = chord.isAltered ? [...chord.tones, ...chord.colours] : chord.tones;
  const tones = new Map(
    own.map((tone) => [(((tone.pitchClass - root) % 12) + 12) % 12, tone.degree] as const).reverse(),
  );
  const result = new Set<number>();
  const deny = (semitones: number): void => {
    if (!tones.has(semitones)) result.add(pitchClass(root + semitones));
  };
  const has = (semitones: number, degree: number): boolean => tones.get(semitones) === degree;
  const isMajor = has(4, 3);
  const isMinor = has(3, 3);
  const isSuspended = !isMajor && !isMinor;
  deny(1);
  if (isMajor) deny(5);
  if (isMajor && !has(3, 9)) deny(3);
  if (isMinor || isSuspended) deny(4);
  if (has(10, 7) || isSuspended) deny(11);
  if (has(11, 7)) deny(10);
  // An altered fifth stands in the place of the natural one, an altered ninth in that of the natural one.
  if (has(6, 5) || has(8, 5)) deny(7);
  if (has(8, 13) && !tones.has(7)) deny(7);
  if (has(1, 9) || (has(3, 9) && isMajor)) deny(2);
  if (chord.bass !== null) result.delete(pitchClassOf(chord.bass));
  return result;
}

/** True for a note that does not stand on a strong beat of this harmony. */
export function deniesChord(harmony: TimelineChord, midi: SoundingMidi): boolean {
  return getOrMake(known, harmony, () => denying(harmony)).has(pitchClass(midi));
}

const ninth = 2;
const fifth = 7;

/** True for the natural fifth or ninth of a harmony that has an altered one in its place. */
export const deniesAlteration = (harmony: TimelineChord, midi: SoundingMidi): boolean =>
  harmony.chord !== null &&
  [ninth, fifth].includes((pitchClass(midi) - pitchClassOf(harmony.chord.root) + 12) % 12) &&
  deniesChord(harmony, midi);
