// From tones back to what a symbol has to say: the one description that we print and export.
import type { IntervalName } from '../tonal';
import {
  plainSpec,
  suspensions,
  type Base,
  type ChordSpec,
  type Formula,
  type AlteredDegree,
  type Top,
} from './spec';

type Tones = ReadonlySet<string>;

interface Ladder {
  readonly degree: number;
  readonly natural: string;
  readonly altered: readonly (readonly [tone: string, alter: number])[];
}

const ninth: Ladder = {
  degree: 9,
  natural: '9M',
  altered: [
    ['9m', -1],
    ['9A', 1],
  ],
};
const eleventh: Ladder = { degree: 11, natural: '11P', altered: [['11A', 1]] };
const thirteenth: Ladder = { degree: 13, natural: '13M', altered: [['13m', -1]] };
const fifth: Ladder = {
  degree: 5,
  natural: '5P',
  altered: [
    ['5d', -1],
    ['5A', 1],
  ],
};

const hasAny = (tones: Tones, ...names: string[]): boolean => names.some((name) => tones.has(name));

function baseOf(tones: Tones, isEleventh: boolean, isSuspended: boolean): Base {
  const fifths = ['5P', '5d', '5A'].filter((tone) => tones.has(tone)).join();
  const hasSeventh = hasAny(tones, '7m', '7M', '7d');
  if (tones.has('3m') && !tones.has('3M')) {
    if (fifths !== '5d' || tones.has('7m') || tones.has('6M')) return 'minor';
    return 'diminished';
  }
  if (tones.has('3M') || isEleventh || isSuspended) {
    const isAugmented = fifths === '5A' && !hasSeventh && tones.has('3M') && !hasAny(tones, '6M', '6m');
    return isAugmented ? 'augmented' : 'major';
  }
  return fifths === '5P' && !hasSeventh && !hasAny(tones, '6M', '6m') ? 'power' : 'major';
}

function topOf(tones: Tones, base: Base, isEleventh: boolean): Top {
  const stacked = base === 'diminished' ? ['7d', '7M'] : ['7m', '7M'];
  if (!hasAny(tones, ...stacked)) return 0;
  if (isEleventh) return 11;
  const hasNinth = hasAny(tones, '9m', '9M', '9A');
  if (tones.has('13M') && hasNinth) return 13;
  const takesEleventh = base !== 'major' || (!tones.has('7m') && tones.has('3M'));
  if (tones.has('11P') && hasNinth && takesEleventh) return 11;
  return tones.has('9M') ? 9 : 7;
}

interface Steps {
  readonly alterations: AlteredDegree[];
  readonly additions: AlteredDegree[];
  readonly omissions: number[];
}

/** Says what one degree does beside what the stack already has of it. */
function describeDegree(
  ladder: Ladder,
  tones: Tones,
  isStacked: boolean,
  isPermitted: boolean,
  steps: Steps,
): void {
  const { degree, natural } = ladder;
  const altered = ladder.altered.filter(([tone]) => tones.has(tone));
  const list = tones.has(natural) ? steps.additions : steps.alterations;
  altered.forEach(([, alter]) => list.push({ degree, alter }));
  if (tones.has(natural) && !isStacked) steps.additions.push({ degree, alter: 0 });
  if (isStacked && !tones.has(natural) && altered.length === 0 && !isPermitted) steps.omissions.push(degree);
}

function describeThird(
  tones: Tones,
  base: Base,
  isEleventh: boolean,
  isSuspended: boolean,
  steps: Steps,
): void {
  const stated =
    isSuspended || base === 'power' ? undefined : base === 'major' || base === 'augmented' ? '3M' : '3m';
  if (stated !== '3M' && tones.has('3M')) steps.additions.push({ degree: 3, alter: 0 });
  if (stated !== '3m' && tones.has('3m')) steps.additions.push({ degree: 3, alter: -1 });
  if (stated !== undefined && !tones.has(stated) && !isEleventh) steps.omissions.push(3);
}

function describeFifth(tones: Tones, colours: Tones, base: Base, altered: boolean, steps: Steps): void {
  if (base === 'diminished' || base === 'augmented') return;
  if (!altered) {
    const isSoft = tones.has('3M') && tones.has('7m') && tones.has('13m') && tones.has('5P');
    if (isSoft) steps.additions.push({ degree: 5, alter: 0 });
    describeDegree(fifth, tones, true, colours.has('5P'), steps);
    return;
  }
  if (tones.has('5P')) steps.additions.push({ degree: 5, alter: 0 });
  for (const [tone, alter] of fifth.altered)
    if (tones.has(tone)) steps.alterations.push({ degree: 5, alter });
}

function describeSeventh(tones: Tones, base: Base, top: Top, steps: Steps): boolean {
  const stacked = base === 'diminished' ? '7d' : '7m';
  const majorSeventh = top > 0 && !tones.has(stacked) && tones.has('7M');
  const inStack = top === 0 ? undefined : majorSeventh ? '7M' : stacked;
  const rest: readonly (readonly [string, number])[] = [
    ['7d', -2],
    ['7m', 0],
    ['7M', 1],
  ];
  for (const [tone, alter] of rest) {
    if (tones.has(tone) && tone !== inStack) steps.additions.push({ degree: 7, alter });
  }
  return majorSeventh;
}

/** The simplest spec that has exactly these tones and colours; `realise` undoes it. */
export function describe(formula: Formula): ChordSpec {
  const tones = new Set<string>(formula.tones);
  const colours = new Set<string>(formula.colours);
  const suspended = suspensions.filter((tone) => tones.has(tone as IntervalName));
  const isSuspended = suspended.length > 0;
  const isEleventh = !isSuspended && colours.has('3M');
  const base = formula.altered ? 'major' : baseOf(tones, isEleventh, isSuspended);
  const top = formula.altered ? 7 : topOf(tones, base, isEleventh);
  const steps: Steps = { alterations: [], additions: [], omissions: [] };
  describeFifth(tones, colours, base, formula.altered, steps);
  const majorSeventh = describeSeventh(tones, base, top, steps);
  if (formula.altered && !tones.has('7m')) steps.omissions.push(7);
  describeDegree(ninth, tones, top >= 9, false, steps);
  describeDegree(eleventh, tones, top === 11, false, steps);
  describeDegree(thirteenth, tones, top === 13, false, steps);
  if (tones.has('6m')) steps.alterations.push({ degree: 13, alter: -1 });
  describeThird(tones, base, isEleventh, isSuspended, steps);
  // "sus4b9" is read as a dominant; without a seventh the ninth is written as added.
  const addsNinth = isSuspended && top === 0;
  const isMoved = (step: AlteredDegree): boolean => addsNinth && step.degree === 9;
  return {
    ...plainSpec,
    base,
    top,
    majorSeventh,
    six: top === 0 && tones.has('6M'),
    suspended,
    altered: formula.altered,
    alterations: steps.alterations.filter((step) => !isMoved(step)),
    additions: [...steps.additions, ...steps.alterations.filter(isMoved)],
    omissions: steps.omissions,
  };
}
