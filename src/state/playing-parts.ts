// What playing is made of; the composition root puts it together.
import type { Playback, PlayerOptions } from '../playback';
import type { Notices } from './notices.svelte';
import type { PracticeLog } from './practice-log.svelte';
import type { Settings } from './settings.svelte';
import type { Connect } from './asking';
import type { Studio } from './studio.svelte';

/** Calls back before the next picture; returns a way to call it off. */
export type EachFrame = (frame: () => void) => () => void;

export interface PlayingParts {
  readonly studio: Studio;
  readonly settings: Settings;
  readonly notices: Notices;
  readonly makePlayback: (options: Pick<PlayerOptions, 'onStatus' | 'onPass'>) => Playback;
  /** Folder of the samples, with a slash at its end. */
  readonly samples: string;
  /** Works out the line of the next pass while this one plays. */
  readonly connectNext: Connect<'walk'>;
  readonly nextFrame: EachFrame;
  /** Milliseconds. */
  readonly now: () => number;
  /** Keeps the screen awake until the returned function is called. */
  readonly keepAwake: () => () => void;
  readonly log: PracticeLog;
  /** What the minutes of the study on the desk are kept under. */
  readonly studyId: () => string;
}
