// A bass of the player's own: any tuning, length and heel, checked.
import table from '../../shared/instruments/instruments.json' with { type: 'json' };
import { midiOf, millimetres, parseNoteName, semitones, soundingMidi } from '../music';
import { lengthRange, makeStrings } from './instruments';
import type { Instrument } from './types';

const { stringRange, heelRange } = table;

/** What a player enters. */
export interface OwnBass {
  readonly name: string;
  /** Open strings, lowest first as players say them: "E1 A1 D2 G2". Octaves are sounding ones. */
  readonly tuning: string;
  /** mm */
  readonly length: number;
  /** First-finger semitone at the heel. */
  readonly heel: number;
  readonly fretted?: boolean;
}

/** The bass, or in words what is wrong with it. */
export interface OwnBassResult {
  readonly instrument: Instrument | null;
  readonly problems: readonly string[];
}

const notePattern = /^([A-Ga-g])([#♯b♭]?)(-?\d)$/;

/** MIDI number of "Bb0"; undefined when it is no note with an octave. */
function pitchOf(text: string): number | undefined {
  const match = notePattern.exec(text);
  if (!match) return undefined;
  const sign = match[2]!.replace('♯', '#').replace('♭', 'b');
  const name = parseNoteName(`${match[1]!.toUpperCase()}${sign}`);
  const octave = Number(match[3]);
  return name && octave >= 0 ? midiOf({ name, octave }) : undefined;
}

/** Sounding pitches of a tuning, as it was typed. */
function readTuning(tuning: string, problems: string[]): readonly number[] {
  const words = tuning.split(/[\s,]+/).filter((word) => word !== '');
  if (words.length < stringRange.fewest || words.length > stringRange.most) {
    problems.push(
      `A bass has from ${stringRange.fewest} to ${stringRange.most} strings; the tuning names ${words.length}.`,
    );
    return [];
  }
  const pitches: number[] = [];
  for (const [index, word] of words.slice(0, stringRange.most).entries()) {
    const pitch = pitchOf(word);
    const place = `String ${index + 1} of the tuning, “${word.slice(0, 12)}”,`;
    if (pitch === undefined) problems.push(`${place} is no note with its octave, such as E1.`);
    else if (pitch < stringRange.lowest || pitch > stringRange.highest)
      problems.push(`${place} is out of the range of a bass.`);
    else if (pitches.length > 0 && pitch <= pitches.at(-1)!)
      problems.push(`${place} is not above the string before it: name the lowest string first.`);
    else pitches.push(pitch);
  }
  return pitches;
}

function checkNumber(value: number, least: number, most: number, what: string, problems: string[]): void {
  if (!(value >= least && value <= most))
    problems.push(`${what} must be from ${least} to ${most}, not ${value}.`);
}

/** A bass of any tuning and length. Everything else about it is computed from these. */
export function ownBass({ name, tuning, length, heel, fretted }: OwnBass): OwnBassResult {
  const problems: string[] = [];
  const pitches = readTuning(tuning, problems);
  checkNumber(length, lengthRange.least, lengthRange.most, 'The string length in mm', problems);
  checkNumber(heel, heelRange.least, heelRange.most, 'The semitone at the heel', problems);
  if (!Number.isInteger(heel)) problems.push('The semitone at the heel must be a whole number.');
  if (problems.length > 0) return { instrument: null, problems };
  const instrument: Instrument = {
    id: 'own',
    name: name.trim().slice(0, 60) || 'own bass',
    length: millimetres(length),
    strings: makeStrings([...pitches].reverse().map(soundingMidi)),
    heel: semitones(heel),
    highestStop: semitones(24),
    ...(fretted ? { fretted } : {}),
  };
  return { instrument, problems };
}
