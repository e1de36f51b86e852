import type { Chord, Key, Scale } from '../types';
import { chooseScale } from './choose';
import { fitScale, type ScaleName } from './formulas';

export { chooseScale, scaleReasons, type ScaleChoice, type ScaleReason } from './choose';
export { scaleIntervals, scaleNames, type ScaleName } from './formulas';
export { nearestScaleNames, parseScaleName } from './names';

/**
 * The scale to walk through over a chord, by its function in the key and by the chord that follows (null: none). Every
 * tone that the symbol states is in it; notes are spelled from the chord's root, with at most one accidental unless the
 * chord itself has two.
 */
export const scaleFor = (chord: Chord, key: Key, next: Chord | null): Scale =>
  fitScale(chooseScale(chord, key, next).name, chord);

/** The scale of that name over a chord, which keeps every tone that the symbol states. */
export const scaleNamed = (name: ScaleName, chord: Chord): Scale => fitScale(name, chord);
