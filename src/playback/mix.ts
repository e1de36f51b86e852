// How loud each part is.
import mixData from '../../shared/rhythm/mix.json' with { type: 'json' };
import { parts, type Mix, type Part, type PartMix } from './types';

const usualMix = (part: Part): PartMix => ({ on: mixData.parts[part].on, level: mixData.usualLevel });

/** The mix before anyone has changed it. */
export const defaultMix: Mix = {
  bass: usualMix('bass'),
  cymbal: usualMix('cymbal'),
  'hi-hat': usualMix('hi-hat'),
  drums: usualMix('drums'),
  chords: usualMix('chords'),
  click: usualMix('click'),
};

/** Amplitude of a part: loudness grows about as the square root of it, and the parts are balanced against each other. */
export function gainOf(part: Part, { on, level }: PartMix): number {
  if (!on) return 0;
  const within = Math.min(1, Math.max(0, level));
  return within * within * 10 ** (mixData.parts[part].decibels / 20);
}

/** The parts whose level or mute differs. */
export const changedParts = (before: Mix, after: Mix): readonly Part[] =>
  parts.filter((part) => gainOf(part, before[part]) !== gainOf(part, after[part]));

/** Amplitude of the whole: all parts at full level together stay under full scale. */
export const masterGain = 10 ** (mixData.masterDecibels / 20);

export const presence = mixData.presence;

/** What the computed bass is lifted by on its way to the level. */
export const computedBassLift = mixData.computedBass.lift;

/** Amplitude that makes the computed bass as loud as the sampled one. */
export const computedBassGain = 10 ** (mixData.computedBass.decibels / 20);
