// Which scale a chord takes: by what its symbol states, by its function in the key and by the chord that follows. The
// choices are common practice among jazz players (no source); where practice differs, the reason stands beside the rule.
import { keyNotes } from '../key';
import { pitchClassOf, semitonesOf } from '../tonal';
import type { Chord, Key } from '../types';
import { scaleIntervals, scaleNames, type ScaleName } from './formulas';

/** Why a scale was taken; the sentence for each is in shared/words/scale-reasons.json. */
export const scaleReasons = [
  'chosen',
  'symbol',
  'key',
  'to minor',
  'to minor in key',
  'home',
  'substitute',
  'main chord',
  'free',
  'two',
  'tonic',
  'usual',
] as const;
export type ScaleReason = (typeof scaleReasons)[number];

export interface ScaleChoice {
  readonly name: ScaleName;
  readonly reason: ScaleReason;
}

const because = (reason: ScaleReason, name: ScaleName): ScaleChoice => ({ name, reason });

/** What the rules look at. */
interface Setting {
  readonly chord: Chord;
  readonly key: Key;
  readonly next: Chord | null;
  /** Semitones of the root above the tonic. */
  readonly degree: number;
  /** Semitones from this root up to the next one; null without a next chord. */
  readonly rise: number | null;
  readonly has: (...intervals: readonly string[]) => boolean;
}

const church: readonly ScaleName[] = scaleNames.slice(0, 7);

/** The mode of the key's own notes on the root, when the chord's tones are all in the key. */
function modeOfKey({ chord, key, degree }: Setting): ScaleName | undefined {
  const inKey = new Set<number>(keyNotes(key).map(pitchClassOf));
  if (!chord.tones.every((tone) => inKey.has(tone.pitchClass))) return undefined;
  const tonic = pitchClassOf(key.tonic);
  return church.find((name) =>
    scaleIntervals(name).every((interval) => inKey.has((tonic + degree + semitonesOf(interval)) % 12)),
  );
}

const isMinorGoal = (chord: Chord | null): boolean =>
  chord?.family === 'minor' || chord?.family === 'halfDiminished' || chord?.family === 'diminished';

/** The quality of what a dominant wants to go to: the next chord if it goes there, else the key's own chord a fourth up. */
function goesToMinor({ key, next, rise, degree }: Setting): boolean {
  if (rise === 5) return isMinorGoal(next);
  if (key.mode === 'minor') return degree === 7 || degree === 0;
  // Three, six and seven lead to the six, two and three of a major key.
  return degree === 4 || degree === 9 || degree === 11;
}

/** Going to a minor chord: phrygian dominant, unless the symbol states the natural ninth or thirteenth. */
const minorDominant = ({ has }: Setting): ScaleName =>
  has('13M') ? 'mixolydian' : has('9M') ? 'mixolydian flat 6' : 'phrygian dominant';

/** A dominant whose symbol states alterations; undefined when it states none. */
function statedDominant(setting: Setting): ScaleName | undefined {
  const { chord, has } = setting;
  if (chord.isAltered) return 'altered';
  if (has('9m', '9A')) {
    // A natural thirteenth over an altered ninth is in the diminished scale only.
    if (has('13M')) return 'half-whole diminished';
    if (has('5A', '5d')) return 'altered';
    if (!has('13m') && !goesToMinor(setting)) return 'half-whole diminished';
    return has('9A') ? 'altered' : 'phrygian dominant';
  }
  if (has('13M') && has('11A', '5d')) return 'lydian dominant';
  if (has('5d')) return 'whole tone';
  if (has('5A')) return has('9M', '11A') || !goesToMinor(setting) ? 'whole tone' : 'altered';
  if (has('11A')) return 'lydian dominant';
  if (has('13m')) return has('9M') || !goesToMinor(setting) ? 'mixolydian flat 6' : 'phrygian dominant';
  return undefined;
}

/** A dominant by where it stands and where it goes. */
function dominant(setting: Setting): ScaleChoice {
  const stated = statedDominant(setting);
  if (stated !== undefined) return because('symbol', stated);
  const { key, next, rise, degree, has } = setting;
  // Nothing says which third was left out: the key does.
  if (!has('3M')) return inKey(setting) ?? because('usual', 'mixolydian');
  if (rise === 5) {
    return isMinorGoal(next) ? because('to minor', minorDominant(setting)) : because('home', 'mixolydian');
  }
  // Down a half step: the substitute a tritone away shares its altered notes with a lydian dominant.
  if (rise === 11 && degree !== 0) return because('substitute', 'lydian dominant');
  if (key.mode === 'minor') {
    if (degree === 7) return because('to minor in key', minorDominant(setting));
    return [0, 3, 10].includes(degree)
      ? because('main chord', 'mixolydian')
      : because('free', 'lydian dominant');
  }
  // One, four and five: the three chords of a blues.
  if ([0, 5, 7].includes(degree)) return because('main chord', 'mixolydian');
  return goesToMinor(setting)
    ? because('to minor in key', minorDominant(setting))
    : because('free', 'lydian dominant');
}

function major(setting: Setting): ScaleChoice {
  const { chord, has, degree, key, rise } = setting;
  if (has('5A')) return because('symbol', 'lydian augmented');
  if (has('11A', '5d')) return because('symbol', 'lydian');
  const mode = inKey(setting);
  if (mode !== undefined) return mode;
  const isTriad = !has('7M', '6M');
  // A major triad that moves like a dominant is one.
  if (isTriad && rise === 5) {
    return isMinorGoal(setting.next)
      ? because('to minor', 'phrygian dominant')
      : because('home', 'mixolydian');
  }
  if (degree === 0) return because('tonic', 'ionian');
  if (key.mode === 'minor' && degree === 3) return because('main chord', 'ionian');
  return because('usual', has('11P') || chord.family === 'power' ? 'mixolydian' : 'lydian');
}

function minor(setting: Setting): ScaleChoice {
  const { has, degree, key, next, rise } = setting;
  const isTonic = key.mode === 'minor' && degree === 0;
  if (has('7M')) return because('symbol', has('6m', '13m') ? 'harmonic minor' : 'melodic minor');
  if (has('9m')) return because('symbol', has('13M') ? 'dorian flat 2' : 'phrygian');
  if (has('6m', '13m', '5A')) return because('symbol', 'aeolian');
  if (isTonic && has('6M')) return because('tonic', 'melodic minor');
  if (has('6M')) return inKey(setting) ?? because('usual', 'melodic minor');
  // The two of a two-five, wherever it goes, and the minor tonic with a seventh.
  const leads = rise === 5 && (next?.family === 'dominant' || next?.family === 'suspended');
  if (has('7m') && leads) return because('two', 'dorian');
  if (has('7m') && isTonic) return because('tonic', 'dorian');
  if (has('7m') && has('13M')) return because('symbol', 'dorian');
  return inKey(setting) ?? because('usual', 'dorian');
}

function suspended(setting: Setting): ScaleChoice {
  const { has, key, degree } = setting;
  if (has('9m', '2m')) return because('symbol', has('13m') ? 'phrygian' : 'dorian flat 2');
  if (has('4A')) return because('symbol', has('7m') ? 'lydian dominant' : 'lydian');
  if (has('7M')) return because('symbol', 'ionian');
  if (has('13m')) return because('symbol', 'aeolian');
  if (has('9M', '13M')) return because('symbol', 'mixolydian');
  if (key.mode === 'minor' && degree === 7) return inKey(setting) ?? because('usual', 'mixolydian');
  return has('7m') ? because('usual', 'mixolydian') : (inKey(setting) ?? because('usual', 'mixolydian'));
}

function halfDiminished(setting: Setting): ScaleChoice {
  const { has, key, degree } = setting;
  if (has('9M')) return because('symbol', 'locrian natural 2');
  // Six of a minor key belongs to its melodic form, which has the natural second over it.
  if (key.mode === 'minor' && degree === 9 && !has('9m')) return because('main chord', 'locrian natural 2');
  return because('usual', 'locrian');
}

/** The key's own mode on the root, when every tone of the chord is in the key. */
function inKey(setting: Setting): ScaleChoice | undefined {
  const name = modeOfKey(setting);
  return name === undefined ? undefined : because('key', name);
}

/**
 * The scale for a chord in a key before the chord that follows it (null: nothing follows), with what decided. In a church
 * mode named by the chart, chords of the mode take its notes.
 */
export function chooseScale(chord: Chord, key: Key, next: Chord | null): ScaleChoice {
  const semitonesUp = (from: number, to: number): number => (to - from + 12) % 12;
  const root = pitchClassOf(chord.root);
  const intervals = new Set<string>(chord.tones.map((tone) => tone.interval));
  const setting: Setting = {
    chord,
    key,
    next,
    degree: semitonesUp(pitchClassOf(key.tonic), root),
    rise: next === null ? null : semitonesUp(root, pitchClassOf(next.root)),
    has: (...names) => names.some((name) => intervals.has(name)),
  };
  if (key.church !== undefined && !chord.isAltered) {
    const own = inKey(setting);
    if (own !== undefined) return own;
  }
  switch (chord.family) {
    case 'dominant':
      return dominant(setting);
    case 'major':
    case 'power':
      return major(setting);
    case 'minor':
      return minor(setting);
    case 'suspended':
      return suspended(setting);
    case 'halfDiminished':
      return halfDiminished(setting);
    case 'diminished':
      return because(setting.has('7M') ? 'symbol' : 'usual', 'whole-half diminished');
    case 'augmented':
      return setting.has('7M') ? because('symbol', 'lydian augmented') : because('usual', 'whole tone');
  }
}
