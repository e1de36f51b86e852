// <note> elements of the bass part to the notes of a given line.
import {
  alterationOf,
  letterOf,
  nameOfPitchClass,
  parseNoteName,
  pitchClass,
  spellPitch,
  type NoteName,
  type SoundingMidi,
  type SpelledPitch,
} from '../../../music';
import { givenFingers, type GivenFinger, type ImportedNote } from './given';
import type { PartState, PartTranspose } from './musicxml-state';
import { childNamed, childrenNamed, descend, numberOf, textOf, type XmlNode } from './xml';

/** A note as it stands in a measure. */
export interface MeasureNote {
  readonly note: Omit<ImportedNote, 'bar'>;
  readonly voice: string;
  /** From 1 at the top, in a part of several staves. */
  readonly staff: number;
  readonly tiedInto: boolean;
  readonly tiedOn: boolean;
}

const letters = 'CDEFGAB';
const naturalSemitones = [0, 2, 4, 5, 7, 9, 11];

/** A note name moved by scale steps and semitones, as transposing instruments are. */
export function movedName(name: NoteName, { diatonic, chromatic }: PartTranspose): NoteName {
  if (chromatic === 0) return name;
  const from = letters.indexOf(letterOf(name));
  const to = (((from + diatonic) % 7) + 7) % 7;
  const wanted = pitchClass(naturalSemitones[from]! + alterationOf(name) + chromatic);
  const alteration = ((wanted - naturalSemitones[to]! + 18) % 12) - 6;
  const moved = `${letters[to]!}${(alteration < 0 ? 'b' : '#').repeat(Math.abs(alteration))}`;
  return parseNoteName(moved) ?? nameOfPitchClass(wanted, false);
}

interface Pitched {
  readonly midi: SoundingMidi;
  readonly pitch: SpelledPitch;
}

/** Null when the pitch is none that can sound. */
function readPitch(node: XmlNode, state: PartState): Pitched | null {
  const alter = Math.round(numberOf(node, 'alter') ?? 0);
  const name = parseNoteName(
    `${textOf(node, 'step') ?? ''}${(alter < 0 ? 'b' : '#').repeat(Math.abs(alter))}`,
  );
  const octave = numberOf(node, 'octave');
  if (name === undefined || octave === undefined || !Number.isInteger(octave)) return null;
  const written = (octave + 1) * 12 + naturalSemitones[letters.indexOf(letterOf(name))]! + alter;
  const midi = written + state.transposition.chromatic + 12 * state.soundingOctaves;
  if (midi < 0 || midi > 127) return null;
  const sounding = midi as SoundingMidi;
  return { midi: sounding, pitch: spellPitch(sounding, movedName(name, state.transposition)) };
}

const fingerOf = (text: string): GivenFinger | undefined =>
  givenFingers.find((finger) => finger === text.trim().toUpperCase());

/** The fingers printed at a note, the main one first. An open string is 0, the thumb sign T. */
function readFingers(technical: readonly XmlNode[]): readonly GivenFinger[] {
  const all = technical.flatMap(({ children }) => children);
  const printed = all.filter(({ name }) => name === 'fingering');
  const isMain = ({ attributes }: XmlNode): boolean =>
    attributes['alternate'] !== 'yes' && attributes['substitution'] !== 'yes';
  const digits = [...printed.filter(isMain), ...printed.filter((node) => !isMain(node))];
  const signs = all.flatMap(({ name }): GivenFinger[] =>
    name === 'open-string' ? ['0'] : name === 'thumb-position' ? ['T'] : [],
  );
  const fingers = [...digits.flatMap(({ text }) => fingerOf(text) ?? []), ...signs];
  return [...new Set(fingers)];
}

function readString(technical: readonly XmlNode[]): number | null {
  const [string] = technical.flatMap((node) => numberOf(node, 'string') ?? []);
  return string !== undefined && Number.isInteger(string) && string >= 1 && string <= 8 ? string : null;
}

/** A sounding note; undefined for rests, grace notes and cues, null for a pitch that cannot sound. */
export function readNote(
  node: XmlNode,
  offset: number,
  ticks: number,
  state: PartState,
): MeasureNote | null | undefined {
  const pitch = childNamed(node, 'pitch');
  if (!pitch || childNamed(node, 'grace') || childNamed(node, 'cue')) return undefined;
  const pitched = readPitch(pitch, state);
  if (pitched === null) return null;
  const technical = childrenNamed(node, 'notations').flatMap((notations) =>
    childrenNamed(notations, 'technical'),
  );
  const ties = [
    ...childrenNamed(node, 'tie'),
    ...childrenNamed(node, 'notations').flatMap((notations) => childrenNamed(notations, 'tied')),
  ].map(({ attributes }) => attributes['type']);
  const [finger = null, ...otherFingers] = readFingers(technical);
  return {
    note: { ...pitched, offset, ticks, string: readString(technical), finger, otherFingers },
    voice: textOf(node, 'voice') ?? '1',
    staff: numberOf(node, 'staff') ?? 1,
    tiedInto: ties.includes('stop'),
    tiedOn: ties.includes('start'),
  };
}

/** The staff that the left hand of a keyboard has: one with an F clef under one with another; null for other parts. */
export function bassStaff(part: XmlNode): number | null {
  const attributes = descend(part, 'measure', 'attributes');
  const clefs = attributes ? childrenNamed(attributes, 'clef') : [];
  const signs = clefs.map((clef) => ({
    staff: Number(clef.attributes['number'] ?? 1),
    isBass: textOf(clef, 'sign') === 'F',
  }));
  const lowest = signs.findLast(({ isBass }) => isBass);
  return lowest !== undefined && signs.some(({ isBass, staff }) => !isBass && staff < lowest.staff)
    ? lowest.staff
    : null;
}

/** The clef and the names by which a bass part is known. */
export function isBassPart(part: XmlNode, listed: XmlNode | undefined): boolean {
  const names = listed
    ? [textOf(listed, 'part-name') ?? '', descend(listed, 'score-instrument', 'instrument-name')?.text ?? '']
    : [];
  const isOther = /bass\s*(clarinet|drum|trombone|flute|sax|oboe)|bassoon|bass(et)?\s*horn/i;
  if (names.some((name) => /\b(bass|contrabass|kontrabass|upright)\b/i.test(name) && !isOther.test(name)))
    return true;
  const program = listed && numberOf(childNamed(listed, 'midi-instrument') ?? listed, 'midi-program');
  // General MIDI basses, and the contrabass among the strings, counted from 1.
  if (program !== undefined && ((program >= 33 && program <= 40) || program === 44)) return true;
  const attributes = descend(part, 'measure', 'attributes');
  const octaves = attributes && numberOf(childNamed(attributes, 'transpose') ?? attributes, 'octave-change');
  const clef = attributes && childNamed(attributes, 'clef');
  const clefOctave = clef && numberOf(clef, 'clef-octave-change');
  return textOf(clef ?? part, 'sign') === 'F' && (octaves === -1 || clefOctave === -1);
}
