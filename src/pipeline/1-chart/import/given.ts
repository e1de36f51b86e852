// A line that came with a file: notes to be fingered, not chosen.
import type { SoundingMidi, SpelledPitch } from '../../../music';

export const givenFingers = ['0', '1', '2', '3', '4', 'T'] as const;
/** As printed beside the note: 0 the open string, T the thumb. */
export type GivenFinger = (typeof givenFingers)[number];

/** One note of the line as written, ties joined. */
export interface ImportedNote {
  /** Index of the bar of the chart in which it begins. */
  readonly bar: number;
  /** Ticks from the start of that bar. */
  readonly offset: number;
  readonly ticks: number;
  readonly midi: SoundingMidi;
  /** Sounding octave. */
  readonly pitch: SpelledPitch;
  /** 1 is the highest string; null when none is given. */
  readonly string: number | null;
  /** Null when none is given. */
  readonly finger: GivenFinger | null;
  /** Further fingers printed at the same note: substitutes and alternatives. */
  readonly otherFingers: readonly GivenFinger[];
}
