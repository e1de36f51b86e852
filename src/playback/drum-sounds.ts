// What drums can sound of.

/** Drums that are recorded. */
const sampledDrums = [
  'ride',
  'ride bell',
  'brush tap',
  'brush sweep',
  'closed hat',
  'pedal hat',
  'side stick',
  'block high',
  'block low',
] as const;
/** What the click sounds on. */
export const clickSounds = ['block high', 'block low'] as const;
/** Drums that are computed. */
export const computedDrums = ['snare', 'kick', 'tom high', 'tom low', 'crash', 'brush stir'] as const;
export type ComputedDrum = (typeof computedDrums)[number];
export type SampledDrum = (typeof sampledDrums)[number];
export const drumSounds = [...sampledDrums, ...computedDrums] as const;
export type DrumSound = (typeof drumSounds)[number];
