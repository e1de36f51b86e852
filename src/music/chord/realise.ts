// From what a symbol says to its tones.
import type { IntervalName } from '../tonal';
import { settle, type Circumstances } from './settle';
import type { Base, ChordSpec, Formula, AlteredDegree } from './spec';

const triads: Readonly<Record<Base, readonly string[]>> = {
  major: ['3M', '5P'],
  minor: ['3m', '5P'],
  diminished: ['3m', '5d'],
  augmented: ['3M', '5A'],
  power: ['5P'],
};

const intervalsByDegree: Readonly<Record<number, Readonly<Record<number, string>>>> = {
  2: { [-1]: '2m', 0: '2M' },
  3: { [-1]: '3m', 0: '3M' },
  4: { 0: '4P', 1: '4A' },
  5: { [-1]: '5d', 0: '5P', 1: '5A' },
  6: { [-1]: '6m', 0: '6M' },
  7: { [-2]: '7d', [-1]: '7m', 0: '7m', 1: '7M' },
  9: { [-1]: '9m', 0: '9M', 1: '9A' },
  11: { 0: '11P', 1: '11A' },
  13: { [-1]: '13m', 0: '13M' },
};

/** Numbers by which one tone is called, and ours. */
const degreeNames: Readonly<Record<number, number>> = { 2: 9, 4: 11, 6: 13, 10: 3 };

/** What an alteration of a degree takes away. */
const replaced: Readonly<Record<number, readonly string[]>> = {
  5: ['5P', '5d', '5A'],
  9: ['9M'],
  11: ['11P'],
  13: ['13M'],
};

/** The interval of a step in a chord; undefined for those that no chord has, such as a flat eleven. */
export const intervalOfStep = ({ degree, alter }: AlteredDegree): IntervalName | undefined =>
  intervalsByDegree[degreeNames[degree] ?? degree]?.[alter] as IntervalName | undefined;

function stack(spec: ChordSpec): string[] {
  if (spec.altered) return ['3M', '7m'];
  const seventh = spec.majorSeventh ? '7M' : spec.base === 'diminished' ? '7d' : '7m';
  return [
    ...triads[spec.base],
    ...(spec.top >= 7 ? [seventh] : []),
    ...(spec.top >= 9 ? ['9M'] : []),
    ...(spec.top === 11 ? ['11P'] : []),
    ...(spec.top === 13 ? ['13M'] : []),
  ];
}

/** Every tone that a spec names, before any rule about what they do to each other. */
export function statedTones(spec: ChordSpec): Set<string> {
  const tones = new Set(stack(spec));
  if (spec.suspended.length > 0) ['3M', '3m'].forEach((third) => tones.delete(third));
  spec.suspended.forEach((tone) => tones.add(tone));
  for (const { degree } of spec.alterations) replaced[degree]?.forEach((tone) => tones.delete(tone));
  for (const step of [...spec.alterations, ...spec.additions]) {
    const tone = intervalOfStep(step);
    if (tone !== undefined) tones.add(tone);
  }
  if (spec.six) tones.add('13M');
  return tones;
}

export const circumstancesOf = (spec: ChordSpec): Circumstances => ({
  top: spec.top,
  altered: spec.altered,
  omissions: spec.omissions,
  statesFifth: spec.additions.some((step) => step.degree === 5),
});

/** The tones of a chord, and those it permits without stating them. Steps that no chord has are passed over. */
export const realise = (spec: ChordSpec): Formula => settle(statedTones(spec), circumstancesOf(spec));
