// What the player is told, from what a person likes on this device and from the study.
import type { Key } from '../music';
import type { PlaybackSettings } from '../playback';
import { newTake, setKey, type Study } from './document';
import { fourthUp, heardMix } from './practice';
import type { PassWish, Preferences } from './preferences';

/** The settings of the player that come from preferences alone. */
export function heardSettings(
  values: Preferences,
): Omit<PlaybackSettings, 'tempo' | 'seed' | 'loop' | 'yourTurn'> {
  const { mix, solo, countInBars, swing, isLoose, leans, isWide, hasRoom, bassSound, click, amount } = values;
  return {
    ...{ countInBars, isLoose, leans, isWide, hasRoom, bassSound, click, amount },
    swing: swing ?? 'by tempo',
    mix: heardMix(mix, solo),
    outputDelay: values.outputDelay / 1000,
  };
}

/**
 * The study as the pass after this one is to play it; null when nothing is to change.
 * @param now as this pass plays it
 * @param shown the key on show, where the study names none
 */
export function studyAfter(study: Study, now: Study, pass: PassWish, shown: Key | undefined): Study | null {
  if (pass === 'new take') return newTake({ ...study, seed: now.seed });
  const key = now.key ?? shown;
  // Pins name notes of the key they were made in.
  return key ? { ...setKey(study, fourthUp(key)), pins: [] } : null;
}
