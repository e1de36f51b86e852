// The settings in force, kept inside their ranges, and what a change of them asks for.
import { bpm, tempoRange, type Bpm } from '../music';
import { defaultMix } from './mix';
import type { Loop, PlaybackSettings, SwapMoment } from './types';

const swingRange = { least: 1, most: 4 };
/** Seconds; wireless headphones take up to about a third of a second (from memory). */
const delayRange = { least: -1, most: 1 };

export const defaultSettings: PlaybackSettings = {
  tempo: bpm(120),
  swing: 'by tempo',
  countInBars: 1,
  loop: 'form',
  mix: defaultMix,
  seed: 1,
  isLoose: true,
  leans: true,
  bassSound: 'upright',
  click: '2 and 4',
  amount: 'as usual',
  yourTurn: false,
  outputDelay: 0,
  isWide: true,
  hasRoom: true,
};

const within = (value: number, least: number, most: number): number =>
  Number.isFinite(value) ? Math.min(most, Math.max(least, value)) : least;

/** The settings after a change, every number inside its range. */
export function changeSettings(
  before: PlaybackSettings,
  change: Partial<PlaybackSettings>,
): PlaybackSettings {
  const after = { ...before, ...change };
  const { swing } = after;
  return {
    ...after,
    tempo: within(after.tempo, tempoRange.least, tempoRange.most) as Bpm,
    swing: swing === 'by tempo' ? swing : within(swing, swingRange.least, swingRange.most),
    outputDelay: Number.isFinite(after.outputDelay)
      ? within(after.outputDelay, delayRange.least, delayRange.most)
      : before.outputDelay,
  };
}

const sameLoop = (a: Loop, b: Loop): boolean =>
  a === b ||
  (typeof a === 'object' &&
    typeof b === 'object' &&
    a.from === b.from &&
    a.to === b.to &&
    'isOnce' in a === 'isOnce' in b);

/** When the notes must be worked out anew for a change to be heard; null when they stay as they are. */
export function momentOf(before: PlaybackSettings, after: PlaybackSettings): SwapMoment | null {
  if (!sameLoop(before.loop, after.loop)) return 'next bar';
  const swingsOtherwise =
    before.swing !== after.swing || (after.swing === 'by tempo' && before.tempo !== after.tempo);
  // A lean is a time, so its ticks change with the tempo.
  const leansOtherwise = after.leans && before.tempo !== after.tempo;
  const isOtherwise = (['seed', 'isLoose', 'leans', 'click', 'amount', 'yourTurn'] as const).some(
    (name) => before[name] !== after[name],
  );
  return swingsOtherwise || leansOtherwise || isOtherwise ? 'next beat' : null;
}
