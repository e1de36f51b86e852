// A line of the player's own, as a study keeps it and a request asks for it.
import type { SoundingMidi } from '../../music';
import type { ImportReading } from '../1-chart';

type FileNote = NonNullable<ImportReading['line']>[number];

/** A note of the line, in the bar of the chart in which it begins, with what its file says of the hand. */
export interface OwnNote extends Pick<FileNote, 'string' | 'finger' | 'otherFingers'> {
  /** As written, from 0. */
  readonly bar: number;
  /** Ticks from the start of that bar. */
  readonly at: number;
  readonly ticks: number;
  readonly midi: SoundingMidi;
}

export const ownFingerings = ['ours', 'theirs'] as const;
/** Whose fingers: those found for this hand, or those that the file has, where it has any. */
export type OwnFingering = (typeof ownFingerings)[number];

export interface OwnLine {
  /** Each begins after the one before it. */
  readonly notes: readonly OwnNote[];
  readonly fingering: OwnFingering;
}
