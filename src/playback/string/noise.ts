// Noise in bands: the finger on the string, the stroke on the body, the muted string.
//
// A band is white noise through two band-passes in a row (the band-pass of the cookbook for audio filters by R. Bristow-Johnson,
// Q = centre / width / 1.2), each band with its own level and its own fall.
import { derivedSeed, fillRandom } from '../../music';
import { amplitude } from './figures';

export interface NoiseShape {
  /** Edges of the bands, Hz: one more than there are bands. */
  readonly hz: readonly number[];
  /** dB at the stroke, of the root mean square of each band. */
  readonly levels: readonly number[];
  /** Seconds in which each falls by 60 dB. */
  readonly t60: readonly number[];
  /** Seconds in which it comes in. */
  readonly rise: number;
}

interface Filter {
  readonly b: number;
  readonly a1: number;
  readonly a2: number;
}

const width = 1.2;
/** A band is heard out to 51 dB under its start. */
const heard = 0.85;
/** White noise from -1 to 1 has this power. */
const whitePower = 1 / 3;
/** Half the steps in which the response is summed, and how far they reach to either side, as the log of a frequency. */
const [steps, reach] = [100, 5];

/**
 * Power of white noise of power 1 after two such filters: the mean of 1 / (1 + (Q (x - 1 / x))^2)^2 over all frequencies, with
 * x = tan(w / 2) / tan(w0 / 2), which is what the filter makes of an analogue band-pass; summed over even steps of ln x.
 */
function passedPower(step: number, q: number): number {
  const middle = Math.tan(step / 2);
  const size = reach / steps;
  let sum = 0;
  for (let i = -steps; i <= steps; i++) {
    const x = Math.exp(i * size);
    const place = middle * x;
    // dw = 2 dp / (1 + p^2) with p = tan(w / 2), and dp = p d(ln x).
    sum += (2 * place) / (1 + place * place) / (1 + (q * (x - 1 / x)) ** 2) ** 2;
  }
  return (sum * size) / Math.PI;
}

/** The filter of a band, and what makes its noise as loud as white noise of power 1. */
function bandOf(low: number, high: number, sampleRate: number): Filter & { readonly gain: number } {
  const centre = Math.sqrt(low * high);
  const step = (2 * Math.PI * centre) / sampleRate;
  const q = centre / (width * (high - low));
  const alpha = Math.sin(step) / (2 * q);
  return {
    b: alpha / (1 + alpha),
    a1: (-2 * Math.cos(step)) / (1 + alpha),
    a2: (1 - alpha) / (1 + alpha),
    gain: 1 / Math.sqrt(passedPower(step, q) * whitePower),
  };
}

/** Adds white noise through a filter twice, falling by a factor a sample from `size` on and rising as the other one closes. */
function addFiltered(
  buffer: Float32Array,
  white: Float64Array,
  { b, a1, a2 }: Filter,
  [size, fall, closing]: readonly [number, number, number],
): void {
  let closed = 1;
  let [x1, x2, y1, y2, z1, z2] = [0, 0, 0, 0, 0, 0];
  let now = size;
  for (let i = 0; i < white.length; i++) {
    const x = 2 * white[i]! - 1;
    const y = b * (x - x2) - a1 * y1 - a2 * y2;
    const z = b * (y - y2) - a1 * z1 - a2 * z2;
    x2 = x1;
    x1 = x;
    y2 = y1;
    y1 = y;
    z2 = z1;
    z1 = z;
    closed *= closing;
    now *= fall;
    buffer[i]! += z * now * (1 - closed);
  }
}

/** Adds noise from the start on; the same seed gives the same noise. */
export function addNoise(buffer: Float32Array, shape: NoiseShape, sampleRate: number, seed: number): void {
  const samplesOf = (t60: number): number => Math.min(buffer.length, Math.ceil(t60 * heard * sampleRate));
  const scratch = new Float64Array(samplesOf(Math.max(...shape.t60)));
  const closing = Math.exp(-1 / (shape.rise * sampleRate));
  shape.levels.forEach((level, i) => {
    const [low, high] = [shape.hz[i]!, shape.hz[i + 1]!];
    if (high > sampleRate / 2) return;
    const t60 = shape.t60[i]!;
    const band = bandOf(low, high, sampleRate);
    const white = scratch.subarray(0, samplesOf(t60));
    fillRandom(white, derivedSeed(seed, i));
    const fall = 10 ** (-3 / t60 / sampleRate);
    addFiltered(buffer, white, band, [amplitude(level) * band.gain, fall, closing]);
  });
}
