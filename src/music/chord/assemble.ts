// Puts root, formula and bass together into the value that the rest of the program uses.
import { degreeOf, pitchClassOf, transpose, type IntervalName, type NoteName } from '../tonal';
import type { Chord, ChordFamily, ChordTone } from '../types';
import { describe } from './describe';
import { printSuffix } from './print';
import { realise } from './realise';
import type { ChordSpec, Formula } from './spec';

const toneOf =
  (root: NoteName) =>
  (interval: IntervalName): ChordTone => {
    const note = interval === '1P' ? root : transpose(root, interval);
    return { interval, degree: degreeOf(interval), note, pitchClass: pitchClassOf(note) };
  };

function familyOf(formula: Formula): ChordFamily {
  const has = (interval: string): boolean => formula.tones.some((tone) => tone === interval);
  const isThirdless = !has('3M') && !has('3m');
  if (['2m', '2M', '4P', '4A'].some(has) || (isThirdless && has('11P') && has('7m'))) return 'suspended';
  if (has('3m') && !has('3M')) {
    if (!has('5d') || has('5P')) return 'minor';
    return has('7m') ? 'halfDiminished' : 'diminished';
  }
  if (has('7m')) return 'dominant';
  if (has('5A') && !has('5P')) return 'augmented';
  const isPower = isThirdless && !has('7M') && !has('6M') && !has('6m') && !has('7d');
  return isPower ? 'power' : 'major';
}

/** Makes the chord that a spec says; `typed` is kept as it is. A bass that is the root is no slash bass. */
export function assembleChord(root: NoteName, spec: ChordSpec, bass: NoteName | null, typed?: string): Chord {
  return chordOfFormula(root, realise(spec), bass, typed);
}

/** The same from tones. */
export function chordOfFormula(
  root: NoteName,
  formula: Formula,
  bass: NoteName | null,
  typed?: string,
): Chord {
  const slash = bass === root ? null : bass;
  const symbol = `${root}${printSuffix(describe(formula), root)}${slash === null ? '' : `/${slash}`}`;
  return {
    symbol,
    typed: typed ?? symbol,
    root,
    bass: slash,
    family: familyOf(formula),
    tones: formula.tones.map(toneOf(root)),
    colours: formula.colours.map(toneOf(root)),
    isAltered: formula.altered,
  };
}

/** The tones of a chord as intervals. */
export const formulaOf = (chord: Chord): Formula => ({
  tones: chord.tones.map((tone) => tone.interval),
  colours: chord.colours.map((tone) => tone.interval),
  altered: chord.isAltered,
});
