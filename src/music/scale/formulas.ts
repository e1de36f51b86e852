// The scales that chords are walked through, and their notes over a chord.
import data from '../../../shared/chords/scales.json' with { type: 'json' };
import {
  degreeOf,
  intervalName,
  semitonesOf,
  simpleName,
  transpose,
  type IntervalName,
  type NoteName,
} from '../tonal';
import type { Chord, Scale } from '../types';

export const scaleNames = [
  'ionian',
  'dorian',
  'phrygian',
  'lydian',
  'mixolydian',
  'aeolian',
  'locrian',
  'melodic minor',
  'dorian flat 2',
  'lydian augmented',
  'lydian dominant',
  'mixolydian flat 6',
  'locrian natural 2',
  'altered',
  'harmonic minor',
  'phrygian dominant',
  'whole tone',
  'half-whole diminished',
  'whole-half diminished',
  'harmonic major',
] as const;
export type ScaleName = (typeof scaleNames)[number];

const intervalsByName = new Map(
  data.rows.map((row) => [row.name, row.intervals.split(' ').map(intervalName)] as const),
);

/** The intervals of a scale from its first note, rising. */
export function scaleIntervals(name: ScaleName): readonly IntervalName[] {
  const intervals = intervalsByName.get(name);
  if (intervals === undefined) throw new RangeError(`scales.json has no ${name}`);
  return intervals;
}

/** A degree within the octave: the ninth is a second. */
const withinOctave = (degree: number): number => (degree > 7 ? degree - 7 : degree);

interface Step {
  readonly interval: IntervalName;
  readonly semitones: number;
  readonly degree: number;
  readonly note: NoteName;
}

/**
 * The scale over a chord. What the symbol states wins: a stated tone that the scale lacks takes the place of the scale's
 * own tone of that degree, an altered fifth leaves no perfect one, and a third that was left out stays out.
 */
export function fitScale(name: ScaleName, chord: Chord): Scale {
  const stated = chord.tones.map((tone): Step => ({
    interval: tone.interval,
    semitones: semitonesOf(tone.interval) % 12,
    degree: withinOctave(tone.degree),
    note: tone.note,
  }));
  const sizes = new Set(stated.map((step) => step.semitones));
  const degrees = new Set(stated.filter((step) => step.degree !== 1).map((step) => step.degree));
  const own = scaleIntervals(name).map((interval): Step => ({
    interval,
    semitones: semitonesOf(interval) % 12,
    degree: degreeOf(interval),
    // Only a tone that the chord states keeps two accidentals.
    note: simpleName(transpose(chord.root, interval)),
  }));
  const ownSizes = new Set(own.map((step) => step.semitones));
  const isReplaced = (step: Step): boolean =>
    stated.some((tone) => tone.degree === step.degree && !ownSizes.has(tone.semitones));
  const lacksThird = chord.family === 'power' || isThirdless(chord);
  const kept = own.filter(
    (step) =>
      !sizes.has(step.semitones) &&
      !isReplaced(step) &&
      !(step.interval === '5P' && degrees.has(5)) &&
      !(lacksThird && step.degree === 3),
  );
  const steps = [...new Map([...kept, ...stated].map((step) => [step.semitones, step])).values()];
  return {
    name: `${chord.root} ${name}`,
    notes: steps.sort((a, b) => a.semitones - b.semitones).map((step) => step.note),
  };
}

/** True when the symbol leaves the third out and puts nothing in its place. */
function isThirdless(chord: Chord): boolean {
  const thirds: readonly string[] = ['2m', '2M', '3m', '3M', '4P', '4A', '11P'];
  return ![...chord.tones, ...chord.colours].some((tone) => thirds.includes(tone.interval));
}
