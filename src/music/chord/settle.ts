// The rules that make a heap of stated tones a chord: what takes the place of what, and what is only permitted.
import { degreeOf, semitonesOf, type IntervalName } from '../tonal';
import type { Formula, Top } from './spec';

/** What of the symbol matters beyond the tones it states. */
export interface Circumstances {
  readonly top: Top;
  readonly altered: boolean;
  readonly omissions: readonly number[];
  /** The fifth was named, not only implied by the triad. */
  readonly statesFifth: boolean;
}

/** What the altered dominant leaves to choose from. */
const alteredColours = ['9m', '9A', '11A', '5d', '5A', '13m'];

/** Order of tones in a chord: by degree, then by size. */
const byDegree = (a: IntervalName, b: IntervalName): number =>
  degreeOf(a) - degreeOf(b) || semitonesOf(a) - semitonesOf(b);

/**
 * Thirteenth and ninth are called sixth and second where there is no seventh under them, and what suspends the third is
 * not named twice.
 */
function rename(tones: Set<string>): void {
  const swap = (from: string, to: string): void => {
    if (tones.delete(from)) tones.add(to);
  };
  if (!['7m', '7M', '7d'].some((seventh) => tones.has(seventh))) {
    swap('13M', '6M');
    swap('13m', '6m');
    if (!tones.has('3M') && !tones.has('3m')) {
      if (tones.has('4P') || tones.has('4A')) swap('9M', '2M');
      if (tones.has('2M') || tones.has('2m')) swap('11P', '4P');
    }
  }
  if (tones.has('4P')) tones.delete('11P');
  if (tones.has('4A')) tones.delete('11A');
  if (tones.has('2M')) tones.delete('9M');
  if (tones.has('2m')) tones.delete('9m');
}

/** The natural ninth belongs under a sharp eleven or a thirteen that states no ninth of its own. */
function permitsNinth(tones: ReadonlySet<string>): boolean {
  if (!tones.has('3M') || !(tones.has('7m') || tones.has('7M'))) return false;
  const isOpen = tones.has('11A') || tones.has('13M') || (tones.has('13m') && tones.has('7m'));
  return isOpen && !['9m', '9M', '9A'].some((ninth) => tones.has(ninth));
}

/** The formula of a chord that states these tones (the root goes without saying). */
export function settle(stated: ReadonlySet<string>, circumstances: Circumstances): Formula {
  const { top, altered, omissions, statesFifth } = circumstances;
  const tones = new Set(stated);
  const colours: string[] = [];
  const isEleventh = top === 11 && ['11P', '3M', '7m'].every((tone) => tones.has(tone)) && !tones.has('3m');
  if (isEleventh && !altered && !omissions.includes(7)) {
    // The natural eleventh takes the place of the third, which the symbol still permits.
    tones.delete('3M');
    if (omissions.includes(3)) tones.add('4P').delete('11P');
    else colours.push('3M');
  }
  for (const tone of [...tones]) if (omissions.includes(degreeOf(tone as IntervalName))) tones.delete(tone);
  const hasSoftFifth = ['3M', '7m', '13m', '5P'].every((tone) => tones.has(tone));
  if (hasSoftFifth && !statesFifth) {
    // Beside a flat thirteen the fifth is a choice, not a statement.
    tones.delete('5P');
    colours.push('5P');
  }
  rename(tones);
  if (altered) colours.push(...alteredColours.filter((tone) => !tones.has(tone)));
  else if (permitsNinth(tones)) colours.push('9M');
  const sorted = (list: Iterable<string>): IntervalName[] =>
    [...(list as Iterable<IntervalName>)].sort(byDegree);
  return { tones: sorted(['1P', ...tones]), colours: sorted(colours), altered };
}
