// What a chord symbol says, apart from its root and bass: the common ground of reading, printing and exchange files.
import type { IntervalName } from '../tonal';

export const bases = ['major', 'minor', 'diminished', 'augmented', 'power'] as const;
export type Base = (typeof bases)[number];

/** How far the thirds are stacked; 0 is a triad. */
export type Top = 0 | 7 | 9 | 11 | 13;

/** A degree and how it is altered: { degree: 9, alter: -1 } is the flat nine. A plain 7 is the minor seventh. */
export interface AlteredDegree {
  readonly degree: number;
  readonly alter: number;
}

export const suspensions = ['2m', '2M', '4P', '4A'] as const;
export type Suspension = (typeof suspensions)[number];

export interface ChordSpec {
  readonly base: Base;
  readonly top: Top;
  readonly majorSeventh: boolean;
  readonly six: boolean;
  /** In place of the third. */
  readonly suspended: readonly Suspension[];
  /** The altered dominant as a whole. */
  readonly altered: boolean;
  /** Each stands in place of the natural degree. */
  readonly alterations: readonly AlteredDegree[];
  /** Each stands beside whatever is there. */
  readonly additions: readonly AlteredDegree[];
  /** Degrees left out. */
  readonly omissions: readonly number[];
}

/** The tones a spec stands for, as intervals from the root in rising order of degree. */
export interface Formula {
  readonly tones: readonly IntervalName[];
  readonly colours: readonly IntervalName[];
  readonly altered: boolean;
}

export const plainSpec: ChordSpec = {
  base: 'major',
  top: 0,
  majorSeventh: false,
  six: false,
  suspended: [],
  altered: false,
  alterations: [],
  additions: [],
  omissions: [],
};

/** Signs before a number: "b", "##". */
export const accidentals = (alter: number): string => (alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter));
