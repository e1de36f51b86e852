// How a single note is measured: loudness, brightness, length, pitch, attack, partials. For the tests and the bench alike.
import { transform } from '../../../src/playback/fourier';
import { lufs, weightAt } from '../../../src/playback/string/ear';

export const rate = 44_100;

/** Power of a sound's first seconds by frequency: one value every `step` Hz, and their sum is the mean power. */
export function spectrum(
  samples: Float32Array,
  from: number,
  to: number,
  sampleRate = rate,
): { power: Float64Array; step: number } {
  const part = samples.subarray(Math.round(from * sampleRate), Math.round(to * sampleRate));
  const size = 2 ** Math.ceil(Math.log2(part.length * 2));
  const [real, imaginary] = [new Float64Array(size), new Float64Array(size)];
  real.set(part);
  transform(real, imaginary);
  const power = Float64Array.from(
    { length: size / 2 },
    (_, i) => (2 * (real[i]! ** 2 + imaginary[i]! ** 2)) / size / part.length,
  );
  return { power, step: sampleRate / size };
}

const weighted = ({ power, step }: ReturnType<typeof spectrum>, weight: (hertz: number) => number): number =>
  power.reduce((sum, value, i) => sum + value * weight((i + 0.5) * step), 0);

/** LUFS of the first half second. */
export const loudness = (samples: Float32Array, sampleRate = rate): number =>
  lufs(weighted(spectrum(samples, 0, 0.5, sampleRate), weightAt));

/** Mean frequency of the power of the first half second, Hz. */
export function centroid(samples: Float32Array, sampleRate = rate): number {
  const found = spectrum(samples, 0, 0.5, sampleRate);
  return weighted(found, (hertz) => hertz) / weighted(found, () => 1);
}

/** dB that a Butterworth high-pass of the fourth order leaves of a sound. */
export function highPassed(
  samples: Float32Array,
  hertz: number,
  sampleRate = rate,
  weight: (hertz: number) => number = () => 1,
): number {
  const found = spectrum(samples, 0, samples.length / sampleRate, sampleRate);
  return (
    10 * Math.log10(weighted(found, (f) => weight(f) / (1 + (hertz / f) ** 8)) / weighted(found, weight))
  );
}

/** Root mean square over 40 ms, every 5 ms, dB. */
export function envelope(samples: Float32Array, sampleRate = rate, width = 0.04): number[] {
  const [half, hop] = [Math.round((width / 2) * sampleRate), Math.round(0.005 * sampleRate)];
  const levels: number[] = [];
  for (let at = 0; at < samples.length; at += hop) {
    let sum = 0;
    for (let i = Math.max(0, at - half); i < Math.min(samples.length, at + half); i++)
      sum += samples[i]! ** 2;
    levels.push(10 * Math.log10(sum / (2 * half) + 1e-15));
  }
  return levels;
}

/** Seconds from the loudest moment until the sound has fallen by so many dB for good within a period. */
export function fallTime(samples: Float32Array, decibels: number, sampleRate = rate): number {
  const levels = envelope(samples, sampleRate);
  const top = Math.max(...levels);
  const peak = levels.indexOf(top);
  const at = levels.findIndex((level, i) => i > peak && level < top - decibels);
  return at < 0 ? Infinity : (at - peak) * 0.005;
}

/** Milliseconds from a tenth to nine tenths of the largest size, of a running mean over 10 ms. */
export function attackTime(samples: Float32Array, sampleRate = rate): number {
  const sizes = envelope(samples.subarray(0, Math.round(0.4 * sampleRate)), sampleRate, 0.01).map(
    (level) => 10 ** (level / 20),
  );
  const top = Math.max(...sizes);
  const at = (share: number): number => sizes.findIndex((size) => size >= share * top);
  return (at(0.9) - at(0.1)) * 5;
}

/** dB of the partials 1 to 12 about 0.1 s under the strongest: a window of 0.15 s. */
export function partialLevels(samples: Float32Array, fundamental: number, sampleRate = rate): number[] {
  const [from, to] = [0.03, 0.18];
  const part = samples.slice(Math.round(from * sampleRate), Math.round(to * sampleRate));
  for (let i = 0; i < part.length; i++) part[i]! *= 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / part.length);
  const { power, step } = spectrum(part, 0, part.length / sampleRate, sampleRate);
  const levels = Array.from({ length: 12 }, (_, i) => {
    const centre = (i + 1) * fundamental;
    let most = 1e-15;
    for (
      let bin = Math.round((centre - fundamental * 0.35) / step);
      bin <= (centre + fundamental * 0.35) / step;
      bin++
    )
      most = Math.max(most, power[bin] ?? 0);
    return 10 * Math.log10(most);
  });
  const top = Math.max(...levels);
  return levels.map((level) => level - top);
}

/** Cents from a pitch, by the lag at which the sound is most like itself, from `from` s on. */
export function centsOff(samples: Float32Array, midi: number, from = 0.3, sampleRate = rate): number {
  const wanted = sampleRate / (440 * 2 ** ((midi - 69) / 12));
  const part = samples.subarray(Math.round(from * sampleRate));
  const periods = 8;
  const length = Math.min(Math.round(wanted * 12), part.length - Math.round(wanted * (periods + 1)));
  const likeness = (lag: number): number => {
    let sum = 0;
    for (let i = 0; i < length; i++) sum += part[i]! * part[i + lag]!;
    return sum;
  };
  const centre = Math.round(wanted * periods);
  const reach = Math.max(3, Math.round(centre * 0.006));
  let best = centre;
  for (let lag = centre - reach; lag <= centre + reach; lag++) if (likeness(lag) > likeness(best)) best = lag;
  const [a, b, c] = [likeness(best - 1), likeness(best), likeness(best + 1)] as const;
  const period = (best + (a - c) / (2 * (a - 2 * b + c))) / periods;
  return 1200 * Math.log2(wanted / period);
}

/** How alike two sounds are over their first seconds, from -1 to 1. */
export function likeness(one: Float32Array, other: Float32Array, seconds = 0.5, sampleRate = rate): number {
  let [both, first, second] = [0, 0, 0];
  for (let i = 0; i < seconds * sampleRate; i++) {
    both += one[i]! * other[i]!;
    first += one[i]! ** 2;
    second += other[i]! ** 2;
  }
  return both / Math.sqrt(first * second);
}
