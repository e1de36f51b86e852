// What a note is in its chord: its degree, with what it is over the root where a slash asks for another bass.
import words from '../../../../shared/words/degrees.json' with { type: 'json' };
import { pitchClass, pitchClassOf, type SoundingMidi } from '../../../music';
import type { TimelineChord } from '../../2-timeline';

export const degreePlaces = ['bass', 'chord', 'scale', 'outside'] as const;
/** The bass a slash asks for, a tone of the chord, a step of its scale, or neither. */
export type DegreePlace = (typeof degreePlaces)[number];

export interface Degree {
  readonly place: DegreePlace;
  /** 1 to 13 as the chord's symbol counts; null where the note is no tone of the chord. */
  readonly number: number | null;
  /** Over the root, from 0 to 11; null where there is no chord. */
  readonly semitones: number | null;
  /** In one word: "third". */
  readonly short: string;
  /** With its quality, always over the root: "minor third", "flat ninth". */
  readonly name: string;
}

const full: Readonly<Record<string, string | undefined>> = words.full;
const short: Readonly<Record<string, string | undefined>> = words.short;

const withinOctave = (semitones: number): number => ((semitones % 12) + 12) % 12;

function degreeOfClass(harmony: TimelineChord, wanted: number): Degree {
  const { chord, scale } = harmony;
  const isInScale = scale?.notes.some((note) => pitchClassOf(note) === wanted) ?? false;
  const inside = isInScale ? 'scale' : 'outside';
  if (!chord) return { place: inside, number: null, semitones: null, short: words.short[inside], name: '' };
  const semitones = withinOctave(wanted - pitchClassOf(chord.root));
  const tone = chord.tones.find((one) => one.pitchClass === wanted);
  const called = tone && (short[String(tone.degree)] ?? String(tone.degree));
  const name = (tone && full[tone.interval]) ?? called ?? words.over.names[semitones]!;
  const number = tone?.degree ?? null;
  if (chord.bass !== null && pitchClassOf(chord.bass) === wanted)
    return { place: 'bass', number, semitones, short: words.short.bass, name };
  const place = tone ? 'chord' : inside;
  return { place, number, semitones, short: called ?? words.short[inside], name };
}

const known = new WeakMap<TimelineChord, Degree[]>();

/** What a pitch is in a harmony. */
export function degreeIn(harmony: TimelineChord, midi: SoundingMidi): Degree {
  const wanted = pitchClass(midi);
  let degrees = known.get(harmony);
  if (!degrees) {
    degrees = Array.from({ length: 12 }, (_, one) => degreeOfClass(harmony, one));
    known.set(harmony, degrees);
  }
  return degrees[wanted]!;
}

/** A tone of the chord, or the bass that a slash asks for. */
export const isChordNote = ({ place }: Degree): boolean => place === 'chord' || place === 'bass';

/** The note at the bottom of the chord: the bass a slash asks for, else the root. */
export const isBassNote = (harmony: TimelineChord, midi: SoundingMidi): boolean =>
  harmony.chord !== null && pitchClassOf(harmony.chord.bass ?? harmony.chord.root) === pitchClass(midi);
