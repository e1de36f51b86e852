// How the notes of figures sound beside plain ones, for whoever plays or writes them.
import figureData from '../../../shared/rhythm/figures.json' with { type: 'json' };
import type { Slot } from './types';

export interface NoteSound {
  /** How strong the place is that the note is played for, see {@link Slot.strength}. */
  readonly strength: Slot['strength'];
  /** Factor on the loudness of that place. */
  readonly loudness: number;
  /** Part of its time that the note sounds: a dead note is cut short. */
  readonly length: number;
}

/** What to make of a slot's articulation; figures in shared/rhythm/figures.json. */
export function soundOf({
  articulation = 'plain',
  strength,
}: Pick<Slot, 'articulation' | 'strength'>): NoteSound {
  switch (articulation) {
    case 'plain':
      return { strength, loudness: 1, length: 1 };
    case 'anticipation':
      return { strength: 3, loudness: 1, length: 1 };
    default:
      return { strength, ...figureData.sound[articulation] };
  }
}
