// What a rendering can be asked for, and what it gives.
import type { Music, PlaybackSettings } from './types';

/** Samples a second of what is rendered. */
export const renderRate = 44_100;
/** Seconds that are left to the last notes to ring out. */
export const ringOut = 2;

export interface RenderWishes {
  readonly music: Music;
  /** Tempo, swing, loop, mix and seed as they are heard; there is no count-in, and the loop is played once. */
  readonly settings: PlaybackSettings;
  /** Folder of the samples, with a slash at its end. */
  readonly samples: string;
  /** Told how far it is, from 0 to 1. */
  readonly onProgress?: (share: number) => void;
  /** Ends it: the promise rejects with the signal's reason. */
  readonly signal?: AbortSignal;
}
