// The presence of the bass on small speakers, as the player's nodes make it, in arithmetic: some lift in the middle, and for
// the sampled one overtones of what is too low to hear. Filters after the Web Audio API (W3C Recommendation 2021, BiquadFilterNode).
import { computedBassLift, presence } from './mix';

interface Biquad {
  readonly b: readonly [number, number, number];
  readonly a: readonly [number, number];
}

/** Resonance in dB, as that standard has it for this kind. */
const highPassDecibels = 1;
const curveLength = 2048;

function highPass(hertz: number, sampleRate: number): Biquad {
  const w = (2 * Math.PI * hertz) / sampleRate;
  const alpha = Math.sin(w) / (2 * 10 ** (highPassDecibels / 20));
  const [over, cosine] = [1 + alpha, Math.cos(w)];
  const b = (1 + cosine) / 2 / over;
  return { b: [b, -2 * b, b], a: [(-2 * cosine) / over, (1 - alpha) / over] };
}

function peak(hertz: number, decibels: number, q: number, sampleRate: number): Biquad {
  const w = (2 * Math.PI * hertz) / sampleRate;
  const size = 10 ** (decibels / 40);
  const alpha = Math.sin(w) / (2 * q);
  const over = 1 + alpha / size;
  const middle = (-2 * Math.cos(w)) / over;
  return {
    b: [(1 + alpha * size) / over, middle, (1 - alpha * size) / over],
    a: [middle, (1 - alpha / size) / over],
  };
}

function filtered(samples: Float32Array, { b, a }: Biquad): Float32Array {
  let [x1, x2, y1, y2] = [0, 0, 0, 0];
  return samples.map((x) => {
    const y = b[0] * x + b[1] * x1 + b[2] * x2 - a[0] * y1 - a[1] * y2;
    [x2, x1, y2, y1] = [x1, x, y1, y];
    return y;
  });
}

/** How a sample is bent; the player's nodes have it as a curve of so many points. */
export const driven = (value: number): number =>
  Math.tanh(presence.drive * Math.min(1, Math.max(-1, value))) / presence.drive;

/** The computed bass with its lift. */
export function withLift(samples: Float32Array, sampleRate: number): Float32Array {
  const { hertz, decibels, q } = computedBassLift;
  return filtered(samples, peak(hertz, decibels, q, sampleRate));
}

/** The sampled bass with its presence. */
export function withPresence(samples: Float32Array, sampleRate: number): Float32Array {
  const { peakHertz, peakDecibels, peakQ, overtonesAboveHertz, overtonesShare } = presence;
  const lifted = filtered(samples, peak(peakHertz, peakDecibels, peakQ, sampleRate));
  const curve = Float32Array.from({ length: curveLength }, (_, i) => driven((2 * i) / (curveLength - 1) - 1));
  const bent = samples.map((value) => {
    const place = Math.min(curveLength - 1, Math.max(0, ((value + 1) / 2) * (curveLength - 1)));
    const i = Math.min(curveLength - 2, Math.floor(place));
    return curve[i]! + (place - i) * (curve[i + 1]! - curve[i]!);
  });
  const overtones = filtered(bent, highPass(overtonesAboveHertz, sampleRate));
  return lifted.map((value, i) => value + overtonesShare * overtones[i]!);
}
