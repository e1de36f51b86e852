// A plucked string without samples: noise goes round a delay line that loses its brightness.
// Karplus and Strong 1983 with the fractional delay of Jaffe and Smith 1983 (Computer Music Journal 7(2)) [from memory].
import { seededRandom } from '../music';

export interface PluckOptions {
  /** Hz; well under half the sample rate. */
  readonly frequency: number;
  readonly sampleRate: number;
  readonly seconds: number;
  /** Seconds until the fundamental has fallen by 60 dB. */
  readonly decay: number;
  readonly seed: number;
}

/** Delay of the two-point average in the loop, in samples, at every frequency. */
const averageDelay = 0.5;
const fadeSeconds = 0.03;
const peak = 0.7;

/** One period of noise, softened as a fingertip does, without a constant part. */
function excitation(length: number, seed: number): Float64Array {
  const random = seededRandom(seed);
  let low = 0;
  const noise = Float64Array.from({ length }, () => {
    low += 0.25 * (2 * random() - 1 - low);
    return low;
  });
  const mean = noise.reduce((sum, value) => sum + value, 0) / length;
  return noise.map((value) => value - mean);
}

/** In place: loudest sample to `peak`, last moments faded to silence. */
function finish(samples: Float32Array, sampleRate: number): Float32Array {
  const most = samples.reduce((found, value) => Math.max(found, Math.abs(value)), 0);
  const fade = Math.round(fadeSeconds * sampleRate);
  return samples.map(
    (value, i) => (value / (most || 1)) * peak * Math.min(1, (samples.length - 1 - i) / fade),
  );
}

/**
 * Mono samples of a plucked string, in tune: whole samples of delay, half a sample in the average, and an allpass for the
 * rest, so that the loop is one period long.
 */
export function pluckedString(options: PluckOptions): Float32Array {
  const { frequency, sampleRate, seconds, decay, seed } = options;
  const period = sampleRate / frequency;
  const whole = Math.floor(period - averageDelay - 0.5);
  const rest = period - averageDelay - whole;
  const allpass = (1 - rest) / (1 + rest);
  const loss = 10 ** ((-3 * period) / (decay * sampleRate));
  const line = excitation(whole, seed);
  const samples = new Float32Array(Math.round(seconds * sampleRate));
  let lastLine = 0;
  let lastAverage = 0;
  let lastAllpass = 0;
  for (let i = 0; i < samples.length; i++) {
    const place = i % whole;
    const value = line[place]!;
    samples[i] = value;
    const average = loss * 0.5 * (value + lastLine);
    lastAllpass = allpass * (average - lastAllpass) + lastAverage;
    lastLine = value;
    lastAverage = average;
    line[place] = lastAllpass;
  }
  return finish(samples, sampleRate);
}
