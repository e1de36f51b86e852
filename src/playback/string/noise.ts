// Noise in bands: the finger on the string, the stroke on the body, the muted string.
//
// A band is white noise through two band-passes in a row (the band-pass of the cookbook for audio filters by R. Bristow-Johnson,
// Q = centre / width / 1.2), each band with its own level and its own fall.
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

interface Band {
  readonly b: number;
  readonly a1: number;
  readonly a2: number;
  /** Makes the noise of a band as loud as white noise of power 1. */
  readonly gain: number;
}

const width = 1.2;
/** A band is heard out to 51 dB under its start. */
const heard = 0.85;
/** White noise from -1 to 1 has this power. */
const whitePower = 1 / 3;

/** Power of white noise of power 1 after two such filters: the sum of their squared response to a single sample. */
function passedPower({ b, a1, a2 }: Omit<Band, 'gain'>, samples: number): number {
  let [x1, x2, y1, y2, z1, z2, sum] = [0, 0, 0, 0, 0, 0, 0];
  for (let i = 0; i < samples; i++) {
    const x = i === 0 ? 1 : 0;
    const y = b * (x - x2) - a1 * y1 - a2 * y2;
    const z = b * (y - y2) - a1 * z1 - a2 * z2;
    [x2, x1, y2, y1, z2, z1] = [x1, x, y1, y, z1, z];
    sum += z * z;
  }
  return sum;
}

function bandOf(low: number, high: number, sampleRate: number): Band {
  const centre = Math.sqrt(low * high);
  const step = (2 * Math.PI * centre) / sampleRate;
  const alpha = (Math.sin(step) * width * (high - low)) / (2 * centre);
  const filter = {
    b: alpha / (1 + alpha),
    a1: (-2 * Math.cos(step)) / (1 + alpha),
    a2: (1 - alpha) / (1 + alpha),
  };
  const settled = Math.round(sampleRate * Math.min(0.25, 8 / (high - low)));
  return { ...filter, gain: 1 / Math.sqrt(passedPower(filter, settled) * whitePower) };
}

/** Adds noise from `from` on, in samples. */
export function addNoise(
  buffer: Float32Array,
  shape: NoiseShape,
  sampleRate: number,
  random: () => number,
  from = 0,
): void {
  shape.levels.forEach((level, i) => {
    const [low, high] = [shape.hz[i]!, shape.hz[i + 1]!];
    if (high > sampleRate / 2) return;
    const { b, a1, a2, gain } = bandOf(low, high, sampleRate);
    const t60 = shape.t60[i]!;
    const end = Math.min(buffer.length, from + Math.ceil(t60 * heard * sampleRate));
    const fall = 10 ** (-3 / t60 / sampleRate);
    const closing = Math.exp(-1 / (shape.rise * sampleRate));
    let size = amplitude(level) * gain;
    let closed = 1;
    let [x1, x2, y1, y2, z1, z2] = [0, 0, 0, 0, 0, 0];
    for (let t = from; t < end; t++) {
      const x = 2 * random() - 1;
      const y = b * (x - x2) - a1 * y1 - a2 * y2;
      const z = b * (y - y2) - a1 * z1 - a2 * z2;
      x2 = x1;
      x1 = x;
      y2 = y1;
      y1 = y;
      z2 = z1;
      z1 = z;
      closed *= closing;
      size *= fall;
      buffer[t]! += z * size * (1 - closed);
    }
  });
}
