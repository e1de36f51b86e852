// What a pitch is in its chord, and what that is worth where it stands in the bar.
import weights from '../../../../shared/weights/music.json' with { type: 'json' };
import { pitchClass, pitchClassOf, type SoundingMidi } from '../../../music';
import type { Slot, TimelineChord } from '../../2-timeline';
import type { Feature } from './feature';

export const toneClasses = ['root', 'third', 'fifth', 'seventh', 'scale', 'chrom'] as const;
export type ToneClass = (typeof toneClasses)[number];

export const degreeContexts = ['change', 'b1', 'b2', 'b3', 'b4'] as const;
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
  let classes = known.get(harmony);
  if (!classes) {
    classes = classifyAll(harmony);
    known.set(harmony, classes);
  }
  return classes[pitchClass(midi)]!;
}

/** Where a slot stands, for the weight of a degree. */
export function degreeContext(slot: Slot): DegreeContext {
  if (slot.isChange) return 'change';
  if (slot.strength === 3) return 'b1';
  if (slot.nextIsDownbeat) return 'b4';
  return slot.strength === 2 ? 'b3' : 'b2';
}

export const degreeFeature: Feature<[Slot, SoundingMidi]> = {
  name: 'chord degree',
  amount: (slot, midi) => weights.degree[degreeContext(slot)][toneClass(slot.harmony, midi)],
};

const { from, bin, energies } = weights.register;

export const registerFeature: Feature<[Slot, SoundingMidi]> = {
  name: 'register',
  amount: (_slot, midi) => {
    const index = Math.floor((midi - from) / bin);
    return energies[Math.min(Math.max(index, 0), energies.length - 1)]!;
  },
};
