// A bass with what its player changed: any tuning, length and heel, checked.
import table from '../../shared/instruments/instruments.json' with { type: 'json' };
import { midiOf, millimetres, parseNoteName, semitones, soundingMidi } from '../music';
import { defaultInstrument, findInstrument, lengthRange, makeStrings } from './instruments';
import type { Instrument } from './types';

const { stringRange } = table;

/** Semitones at which a heel may lie. */
export const heelRange = { least: table.heelRange.least, most: table.heelRange.most } as const;

/** Longest text of a tuning that is read. */
export const tuningLength = 60;

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

/** True when a number is within its range; else it is told. */
function checkNumber(value: number, least: number, most: number, what: string, problems: string[]): boolean {
  const isWithin = value >= least && value <= most;
  if (!isWithin) problems.push(`${what} must be from ${least} to ${most}, not ${value}.`);
  return isWithin;
}

/** A bass from the list with what its player changed; null leaves a thing as it is in the list. */
export interface BassSetting {
  /** Id in the list. */
  readonly id: string;
  /** mm */
  readonly length: number | null;
  /** First-finger semitone at the heel. */
  readonly heel: number | null;
  /** Open strings, lowest first: "E1 A1 D2 G2". */
  readonly tuning: string | null;
}

/** The bass of a setting. What is wrong is told and stays as it is in the list, so that there is always a bass. */
export function bassOf({ id, length, heel, tuning }: BassSetting): {
  readonly instrument: Instrument;
  readonly problems: readonly string[];
} {
  const listed = findInstrument(id) ?? defaultInstrument;
  if (length === null && heel === null && tuning === null) return { instrument: listed, problems: [] };
  const problems: string[] = [];
  const isLength =
    length !== null &&
    checkNumber(length, lengthRange.least, lengthRange.most, 'The string length in mm', problems);
  const isHeel =
    heel !== null && checkNumber(heel, heelRange.least, heelRange.most, 'The semitone at the heel', problems);
  const wrongStrings: string[] = [];
  const pitches = tuning === null ? [] : readTuning(tuning.slice(0, tuningLength), wrongStrings);
  problems.push(...wrongStrings);
  const { extension, ...rest } = listed;
  const isTuned = tuning !== null && wrongStrings.length === 0;
  const kept = isTuned || !extension ? rest : listed;
  const instrument: Instrument = {
    ...kept,
    ...(isLength ? { length: millimetres(length) } : {}),
    ...(isHeel ? { heel: semitones(Math.round(heel)) } : {}),
    ...(isTuned
      ? {
          name: `${listed.name.split(',')[0]!}, own tuning`,
          strings: makeStrings([...pitches].reverse().map(soundingMidi)),
        }
      : {}),
  };
  return { instrument, problems };
}

/** How the open strings of a bass are typed: "E1 A1 D2 G2". */
export const tuningText = ({ strings }: Pick<Instrument, 'strings'>): string =>
  [...strings]
    .reverse()
    .map(({ name, open }) => `${name}${Math.floor(open / 12) - 1}`)
    .join(' ');
