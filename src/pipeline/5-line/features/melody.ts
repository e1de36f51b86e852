// The step from note to note. What looks further back than one step is the grammar's (grammar/).
import figures from '../../../../shared/rhythm/figures.json' with { type: 'json' };
import weights from '../../../../shared/weights/music.json' with { type: 'json' };
import { pitchClass, pitchClassOf, type SoundingMidi } from '../../../music';
import { isOrnament, type Slot, type TimelineChord } from '../../2-timeline';
import type { Feature } from './feature';

/** The next note opens a bar or a chord: the step into it is an approach. */
export const leadsIntoTarget = (slot: Slot): boolean => slot.nextIsDownbeat || slot.nextIsChange;

/** By step into a target: what its direction adds to its size. */
const signed: Readonly<Record<number, number | undefined>> = weights.signedBarLine;

/** Arguments: the slot of the first note, first pitch, second pitch. */
export type StepFeature = Feature<[Slot, SoundingMidi, SoundingMidi]>;

/** Falls of at most a step, and of more than an octave, are told apart from the rest. */
const stepSize = 2;
const octave = 12;

/** The step into a ghost: the same note again, or an open string wherever it lies. */
function ghostStep(step: number): number {
  const { repeat, step: near, leap } = figures.ghost;
  if (step === 0) return repeat;
  return Math.abs(step) <= stepSize ? near : leap;
}

/** The step into a drop or a triplet note: down. */
function fallingStep(energies: typeof figures.drop | typeof figures.triplet, step: number): number {
  if (step === 0) return energies.repeat;
  if (step > 0) return energies.rise;
  if (step >= -stepSize) return energies.fallByStep;
  return step >= -octave ? energies.fall : energies.fallFar;
}

/** The walking step is weighed in full only between notes that walk. */
function stepShare({ articulation, confinedTo, isSustained }: Slot): number {
  const { ornament, sustained, pattern } = figures.stepShare;
  if (isOrnament(articulation)) return ornament;
  if (confinedTo) return pattern;
  return isSustained ? sustained : 1;
}

const isBassOf = ({ chord }: TimelineChord, midi: SoundingMidi): boolean =>
  chord !== null && pitchClassOf(chord.bass ?? chord.root) === pitchClass(midi);

/** The bass struck again where it is a pedal, here and at the next note. */
const staysOnPedal = (slot: Slot, from: SoundingMidi, to: SoundingMidi): boolean =>
  slot.isPedal === true && from === to && isBassOf(slot.harmony, from) && isBassOf(slot.nextHarmony, to);

export const intervalFeature: StepFeature = {
  name: 'interval',
  amount: (slot, from, to) => {
    const step = to - from;
    switch (slot.nextArticulation) {
      case 'ghost':
        return ghostStep(step);
      case 'drop':
        return fallingStep(figures.drop, step);
      case 'triplet':
        return fallingStep(figures.triplet, step);
      default:
    }
    if (staysOnPedal(slot, from, to)) return figures.pedal.repeat;
    const energies = leadsIntoTarget(slot) ? weights.intervalBarLine : weights.intervalInBar;
    return energies[Math.min(Math.abs(step), energies.length - 1)]! * stepShare(slot);
  },
};

/** The last step into the target; out of a ghost that repeats the approach note it is the approach itself. */
export const approachFeature: StepFeature = {
  name: 'approach',
  amount: (slot, from, to) => {
    if (!leadsIntoTarget(slot) || isOrnament(slot.nextArticulation)) return 0;
    const share = slot.articulation === 'ghost' ? 1 : stepShare(slot);
    return (signed[to - from] ?? 0) * share;
  },
};
