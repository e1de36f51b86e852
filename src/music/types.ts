// What a chord, a key and a scale are. Made by the functions of this folder; plain values that can be sent and stored.
import type { IntervalName, NoteName } from './tonal';
import type { PitchClass } from './units';

export const modes = ['major', 'minor'] as const;
export type Mode = (typeof modes)[number];

export const churchModes = ['dorian', 'phrygian', 'lydian', 'mixolydian', 'locrian'] as const;
/** The modes that are neither major (ionian) nor natural minor (aeolian). */
export type ChurchMode = (typeof churchModes)[number];

/** A key that a signature of at most seven accidentals can show. */
export interface Key {
  readonly tonic: NoteName;
  readonly mode: Mode;
  /** Sharps positive, flats negative, -7..7; those of the church mode where there is one. */
  readonly fifths: number;
  /** Set for a modal key; `mode` then says which third the tonic has. */
  readonly church?: ChurchMode;
}

/** Beats a bar over the note value that is one beat: 4/4 is { beats: 4, unit: 4 }. */
export interface Meter {
  readonly beats: number;
  readonly unit: 2 | 4 | 8;
}

export const chordFamilies = [
  'major',
  'minor',
  'dominant',
  'halfDiminished',
  'diminished',
  'augmented',
  'suspended',
  'power',
] as const;
/** The broad kind that decides function and scale; minor-major chords are 'minor' with a major seventh among the tones. */
export type ChordFamily = (typeof chordFamilies)[number];

/** One tone of a chord. */
export interface ChordTone {
  /** From the root: "3m", "7M", "11A". */
  readonly interval: IntervalName;
  /** 1, 2, 3, 4, 5, 6, 7, 9, 11 or 13, as named in the symbol. */
  readonly degree: number;
  readonly note: NoteName;
  readonly pitchClass: PitchClass;
}

/** A chord symbol understood. Root, tones and bass are kept apart. */
export interface Chord {
  /** The symbol in our own spelling, accidentals as # and b: "Bbm7b5", "C7sus4b9", "C/E". */
  readonly symbol: string;
  /** As it was typed. */
  readonly typed: string;
  readonly root: NoteName;
  /** The note after the slash, null when the root is the bass. */
  readonly bass: NoteName | null;
  readonly family: ChordFamily;
  /** Root first, in rising order of degree; a dropped tone is not there. */
  readonly tones: readonly ChordTone[];
  /** Tones the symbol permits without stating them, such as the ninth in C7#11 or all of the altered dominant's choices. */
  readonly colours: readonly ChordTone[];
  /** True for the altered dominant: no perfect fifth, no natural ninth. */
  readonly isAltered: boolean;
}

/** Notes to walk through while a chord lasts, with the name a player would give the scale. */
export interface Scale {
  /** "F mixolydian", "G altered". */
  readonly name: string;
  /** Rising from the root; every note spelled for this chord in this key. */
  readonly notes: readonly NoteName[];
}

/** Something to tell about a symbol that was understood: a likely reading of an uncertain spelling. */
export interface Remark {
  /** Key of the sentence in shared/words/chord-problems.json. */
  readonly code: string;
  /** Place in the text that was read, from 0 in UTF-16 units. */
  readonly at: number;
  readonly length: number;
  /** What to put into the sentence: always `symbol`, and what its template asks for. */
  readonly values?: Readonly<Record<string, string>>;
}

/** What a chord symbol was read as. */
export type ChordReading =
  | {
      readonly kind: 'chord';
      readonly chord: Chord;
      /** The whole symbol stood in brackets. */
      readonly optional: boolean;
      readonly remarks: readonly Remark[];
    }
  | { readonly kind: 'no chord' }
  /** "/E": the chord before it goes on over a new bass. */
  | { readonly kind: 'bass only'; readonly bass: NoteName }
  | ({ readonly kind: 'refused' } & Remark);
