// The step from note to note, and the turn of two steps.
import weights from '../../../../shared/weights/music.json' with { type: 'json' };
import type { SoundingMidi } from '../../../music';
import type { Slot } from '../../2-timeline';
import { toneClass } from './degree';
import type { Feature } from './feature';

/** The next note opens a bar or a chord: the step into it is an approach. */
export const leadsIntoTarget = (slot: Slot): boolean => slot.nextIsDownbeat || slot.nextIsChange;

const signed = new Map(Object.entries(weights.signedBarLine).map(([step, energy]) => [Number(step), energy]));

/** Arguments: the slot of the first note, first pitch, second pitch. */
export type StepFeature = Feature<[Slot, SoundingMidi, SoundingMidi]>;

export const intervalFeature: StepFeature = {
  name: 'interval',
  amount: (slot, from, to) => {
    const energies = leadsIntoTarget(slot) ? weights.intervalBarLine : weights.intervalInBar;
    return energies[Math.min(Math.abs(to - from), energies.length - 1)]!;
  },
};

export const approachFeature: StepFeature = {
  name: 'approach',
  amount: (slot, from, to) => (leadsIntoTarget(slot) ? (signed.get(to - from) ?? 0) : 0),
};

export const leftHangingFeature: StepFeature = {
  name: 'left hanging',
  amount: (slot, from, to) =>
    Math.abs(to - from) !== 1 && toneClass(slot.harmony, from) === 'chrom' ? weights.leftHanging.energy : 0,
};

/** Arguments: first and second step in semitones, rising positive. */
export type TurnFeature = Feature<[number, number]>;

const turnsBack = (first: number, second: number): boolean => first * second < 0;

export const turnFeatures: readonly TurnFeature[] = [
  {
    name: 'change of direction',
    amount: (first, second) => (turnsBack(first, second) ? weights.directionChange : 0),
  },
  {
    name: 'leap turned back',
    amount: (first, second) =>
      Math.abs(first) >= weights.leapReverses.least && turnsBack(first, second)
        ? weights.leapReverses.energy
        : 0,
  },
  {
    name: 'skips one way',
    amount: (first, second) => {
      const { least, energy } = weights.twoSkipsOneWay;
      return Math.abs(first) >= least && Math.abs(second) >= least && first * second > 0 ? energy : 0;
    },
  },
  {
    name: 'there and back',
    amount: (first, second) => (first !== 0 && first + second === 0 ? weights.turnBack : 0),
  },
];
