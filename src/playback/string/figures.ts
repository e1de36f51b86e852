// The figures of a bass, as shared/sound gives them, and the few ways in which they are read.
import electricData from '../../../shared/sound/electric.json' with { type: 'json' };
import touchData from '../../../shared/sound/touches.json' with { type: 'json' };
import uprightData from '../../../shared/sound/upright.json' with { type: 'json' };

/** What shared/sound holds of a bass; every section says there what it means, in which units, and where it is from. */
export type Tone = typeof uprightData;

export const toneKinds = ['upright', 'electric'] as const;
/** A bass whose figures we have. */
export type ToneKind = (typeof toneKinds)[number];

const tones: Readonly<Record<ToneKind, Tone>> = {
  upright: uprightData,
  electric: electricData,
};

export const toneOf = (kind: ToneKind): Tone => tones[kind];

/** What shared/sound says of the ways to touch a string. */
export const touchFigures = touchData;

/** The value at a place: straight lines between the points, level beyond the ends. `share` says how far x is from a to b. */
function read(
  xs: readonly number[],
  ys: readonly number[],
  x: number,
  share: (a: number, b: number) => number,
): number {
  const above = xs.findIndex((one) => one >= x);
  if (above < 0) return ys.at(-1)!;
  if (above === 0) return ys[0]!;
  return ys[above - 1]! + (ys[above]! - ys[above - 1]!) * share(xs[above - 1]!, xs[above]!);
}

/** `xs` rising. */
export const between = (xs: readonly number[], ys: readonly number[], x: number): number =>
  read(xs, ys, x, (a, b) => (x - a) / (b - a));

/** The same over the logarithm of a frequency. */
export const atFrequency = (hz: readonly number[], values: readonly number[], frequency: number): number =>
  read(hz, values, frequency, (a, b) => Math.log(frequency / a) / Math.log(b / a));

/** Amplitude of a level in dB. */
export const amplitude = (decibels: number): number => 10 ** (decibels / 20);
/** Hz of a MIDI number, with a fraction. */
export const hertz = (midi: number): number => 440 * 2 ** ((midi - 69) / 12);

/** A normal number about 0, near enough: three even ones added (standard deviation `deviation`). */
export const about = (random: () => number, deviation: number): number =>
  (random() + random() + random() - 1.5) * 2 * deviation;
