// What the player wishes of the line, as costs: nothing where nothing is wished.
import weights from '../../../../shared/weights/wishes.json' with { type: 'json' };
import type { SoundingMidi } from '../../../music';
import { isOrnament, type Slot } from '../../2-timeline';
import { degreeContext, toneClass } from './degree';
import type { Feature } from './feature';
import type { StepFeature } from './melody';

const newContexts: readonly string[] = ['section', 'four bars', 'change'];

/** A note that walks: what is not free to be chosen bears no wish. */
const isFree = ({ confinedTo, articulation }: Slot): boolean => !confinedTo && !isOrnament(articulation);

const bolder: Feature<[Slot, SoundingMidi]> = {
  name: 'plain or bold',
  amount: (slot, midi) => {
    const bold = slot.lean?.bold ?? 0;
    if (bold === 0 || !isFree(slot)) return 0;
    const place = newContexts.includes(degreeContext(slot)) ? 'new' : 'inside';
    return Math.abs(bold) * weights.bold[bold > 0 ? 'bold' : 'plain'][place][toneClass(slot.harmony, midi)];
  },
};

const further: Feature<[Slot, SoundingMidi]> = {
  name: 'inside or outside',
  amount: (slot, midi) => {
    const outside = slot.lean?.outside ?? 0;
    if (outside === 0 || slot.isTarget || !isFree(slot)) return 0;
    const tone = toneClass(slot.harmony, midi);
    const part = tone === 'chrom' || tone === 'scale' ? tone : 'chord';
    return Math.abs(outside) * weights.outside[outside > 0 ? 'outside' : 'inside'][part];
  },
};

const halfOctave = 6;
const { strength, most } = weights.register;

const nearer: Feature<[Slot, SoundingMidi]> = {
  name: 'height wished for',
  amount: ({ lean }, midi) =>
    lean === undefined || lean.goal === null
      ? 0
      : Math.min(most, strength * ((midi - lean.goal) / halfOctave) ** 2),
};

export const wishedPitchFeatures: readonly Feature<[Slot, SoundingMidi]>[] = [bolder, further, nearer];

/** Largest step of each size, in semitones: repeated, step, third, fourth to sixth, more. */
const sizes = [0, 2, 4, 9] as const;

export const wishedStepFeature: StepFeature = {
  name: 'steps or leaps',
  amount: (slot, from, to) => {
    const leaps = slot.lean?.leaps ?? 0;
    if (leaps === 0 || !isFree(slot)) return 0;
    const step = Math.abs(to - from);
    const size = sizes.findIndex((largest) => step <= largest);
    const energies = leaps > 0 ? weights.leaps.leaps : weights.leaps.steps;
    return Math.abs(leaps) * energies.at(size)!;
  },
};
