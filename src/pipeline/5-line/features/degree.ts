// What a pitch is in its chord, and what that is worth where it stands in the bar.
import { getOrMake } from '../../../cache';
import figures from '../../../../shared/rhythm/figures.json' with { type: 'json' };
import weights from '../../../../shared/weights/music.json' with { type: 'json' };
import { pitchClass, pitchClassOf, type SoundingMidi } from '../../../music';
import type { Slot, TimelineChord } from '../../2-timeline';
import { deniesAlteration, deniesChord } from '../grammar/avoid';
import type { Feature } from './feature';

export const toneClasses = ['root', 'third', 'fifth', 'seventh', 'scale', 'chrom'] as const;
export type ToneClass = (typeof toneClasses)[number];

export const degreeContexts = ['section', 'four bars', 'change', 'b1', 'b2', 'b3', 'b4'] as const;
export type DegreeContext = (typeof degreeContexts)[number];

const classByDegree: Readonly<Record<number, ToneClass>> = {
  1: 'root',
  2: 'third',
  3: 'third',
  4: 'third',
  5: 'fifth',
  6: 'seventh',
  7: 'seventh',
};

/** The function of each pitch class over a chord. A slash bass takes the root's part, and the root then supports like a fifth. */
function classifyAll(harmony: TimelineChord): readonly ToneClass[] {
  const classes = new Array<ToneClass>(12).fill('chrom');
  for (const note of harmony.scale?.notes ?? []) classes[pitchClassOf(note)] = 'scale';
  const { chord } = harmony;
  if (!chord) return classes;
  for (const tone of [...chord.tones].reverse())
    classes[tone.pitchClass] = classByDegree[tone.degree] ?? 'scale';
  if (chord.bass !== null) {
    classes[pitchClassOf(chord.root)] = 'fifth';
    classes[pitchClassOf(chord.bass)] = 'root';
  }
  return classes;
}

const known = new WeakMap<TimelineChord, readonly ToneClass[]>();

/** What a pitch is in a harmony. */
export function toneClass(harmony: TimelineChord, midi: SoundingMidi): ToneClass {
  return getOrMake(known, harmony, () => classifyAll(harmony))[pitchClass(midi)]!;
}

/** Where a slot stands, for the weight of a degree. */
export function degreeContext(slot: Slot): DegreeContext {
  // A section begins anew even where its first chord goes on.
  if (slot.phrase === 'top' || slot.phrase === 'section') return 'section';
  if (slot.isChange) return slot.phrase === 'four bars' ? 'four bars' : 'change';
  // An anticipation is the downbeat that it plays early.
  if (slot.strength === 3 || slot.articulation === 'anticipation') return 'b1';
  if (slot.nextIsDownbeat) return 'b4';
  return slot.strength === 2 ? 'b3' : 'b2';
}

const isNew = (context: DegreeContext): boolean =>
  context === 'section' || context === 'four bars' || context === 'change';
const opens = (context: DegreeContext): boolean => isNew(context) || context === 'b1';

/** Root and fifth of a pattern by place. Notes a pin asks for beside them cost nothing: there is no choice to weigh. */
function patternDegree(slot: Slot, midi: SoundingMidi): number {
  const context = degreeContext(slot);
  const { opening, strong, off } = figures.pattern;
  const energies = opens(context) ? opening : slot.strength > 0 ? strong : off;
  const tone = toneClass(slot.harmony, midi);
  return tone === 'root' || tone === 'fifth' ? energies[tone] : 0;
}

function sustainedDegree(slot: Slot, tone: ToneClass): number {
  const context = degreeContext(slot);
  const { change, downbeat, later } = figures.sustained;
  return (isNew(context) ? change : context === 'b1' ? downbeat : later)[tone];
}

export const degreeFeature: Feature<[Slot, SoundingMidi]> = {
  name: 'chord degree',
  amount: (slot, midi) => {
    if (slot.confinedTo) return patternDegree(slot, midi);
    const tone = toneClass(slot.harmony, midi);
    if (slot.articulation === 'ghost') return tone === 'chrom' ? figures.ghost.outside : 0;
    if (slot.isSustained) return sustainedDegree(slot, tone);
    return weights.degree[degreeContext(slot)][tone];
  },
};

/** A line begins on the root, or at least on the fifth (common practice, no source). */
export const openingFeature: Feature<[Slot, SoundingMidi]> = {
  name: 'first note of the form',
  amount: (slot, midi) => {
    if (slot.phrase !== 'top' || slot.confinedTo) return 0;
    const tone = toneClass(slot.harmony, midi);
    return tone === 'root' ? 0 : tone === 'fifth' ? weights.opening.fifth : weights.opening.other;
  },
};

/** On a target a note that denies its chord has no way to pass; an alteration is not denied in the middle of the bar, either. */
export const denialFeature: Feature<[Slot, SoundingMidi]> = {
  name: 'denies the chord',
  amount: ({ isTarget, strength, harmony }, midi) =>
    (isTarget && deniesChord(harmony, midi)) || (strength >= 2 && deniesAlteration(harmony, midi))
      ? weights.denial
      : 0,
};

const { from, bin, energies } = weights.register;

export const registerFeature: Feature<[Slot, SoundingMidi]> = {
  name: 'register',
  amount: (_slot, midi) => {
    const index = Math.floor((midi - from) / bin);
    return energies[Math.min(Math.max(index, 0), energies.length - 1)]!;
  },
};
