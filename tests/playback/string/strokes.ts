// Strokes for the tests of the computed bass.
import type { StringStroke } from '../../../src/playback/string/stroke';

/** A plain stroke on the usual bass. */
export const strokeOn = (open: number, stop: number, change: Partial<StringStroke> = {}): StringStroke => ({
  kind: 'upright',
  open,
  stop,
  lengthMm: 1060,
  loudness: 0.65,
  seed: 1,
  touch: 'plucked',
  ...change,
});
/** Open strings of a bass in fourths, and its lowest and highest note here. */
export const fourths = [28, 33, 38, 43] as const;
export const [lowE, highG] = [28, 55] as const;
/** The lowest stop of a pitch on that bass: string and stop. */
export const lowestStop = (midi: number): readonly [number, number] => {
  const open = fourths.findLast((one) => one <= midi) ?? lowE;
  return [open, midi - open];
};
/** Every stop of a string up to the highest note, at most two octaves. */
export const stopsOf = (open: number): readonly number[] =>
  Array.from({ length: Math.min(24, highG - open) + 1 }, (_, stop) => stop);
