// The partials of a plucked string, each with its frequency, its level and how it dies away.
//
// Frequency   f_n = n f sqrt((1 + B n^2) / (1 + 4 B)): a stiff string (Fletcher and Rossing, The Physics of Musical
//             Instruments, ch. 2); the ear's pitch lies near the second partial, which is kept in tune.
// Level, dB   plucking place      10 lg((1 - cos(2 pi n p / L) b) / 2 + floor^2) - 20 lg n,
//             blurred by a finger of width w:  b = exp(-2 (pi n w / L)^2)
//             pickup at d         20 lg(|sin(pi n d / L)| + floor), on an electric bass
//             body and room       response(f)
//             touch               u (tilt x + tiltHigh max(0, x - 2)) + x (stringTilt o + stopped (stopTilt + stopTiltOctave k))
// Decay       early rate, dB/s    exp(early(f) + stopped (s + s' x) + stopOctave k + string o + loud u)
//             late rate           early exp(-exp(ratio(f) + stopped ratioStopped)): the string swings in two planes, and the
//             one along the bridge dies away slowly (Weinreich 1977, J Acoust Soc Am 62:1474-1484)
// with x octaves above 100 Hz, o the open string in octaves above A1, k the stop in octaves, u = loudness - 0.65.
import { atFrequency, between, hertz, type Tone } from './figures';
import { speakingLength, type StringStroke } from './stroke';

export interface Partial {
  readonly number: number;
  /** Hz. */
  readonly frequency: number;
  /** dB over an arbitrary zero. */
  readonly level: number;
  /** Falls in dB a second, at first and of what is left. */
  readonly early: number;
  readonly late: number;
  /** dB of what is left under the whole. */
  readonly share: number;
}

const mostPartials = 40;
const openA = 33;
/** Loudness at which the figures hold as they are. */
export const middleLoudness = 0.65;
const lowest = 100;

/** Level of a partial by where the string is plucked, dB. */
function combLevel({ pluck }: Tone, number: number, length: number, place: number): number {
  const blur = Math.exp(-2 * ((Math.PI * number * pluck.fingerMm) / length) ** 2);
  const comb = (1 - Math.cos((2 * Math.PI * number * place) / length) * blur) / 2 + pluck.floor ** 2;
  return 10 * Math.log10(comb) - 20 * Math.log10(number);
}

/** Level of a partial by where a pickup hears the string, dB; 0 where there is none. */
function pickupLevel({ pluck }: Tone, number: number, length: number): number {
  if (pluck.pickupMm === 0) return 0;
  return 20 * Math.log10(Math.abs(Math.sin((Math.PI * number * pluck.pickupMm) / length)) + pluck.floor);
}

/**
 * The partials from the lowest on.
 * @param loudness of this stroke, 0 to 1
 * @param placeMm where it is plucked, from the bridge
 * @param highest Hz
 */
export function partialsOf(
  tone: Tone,
  stroke: StringStroke,
  loudness: number,
  placeMm: number,
  highest: number,
): readonly Partial[] {
  const { string, pluck, response, decay } = tone;
  const { open, stop } = stroke;
  const fundamental = hertz(open + stop);
  const length = speakingLength(stroke, stop);
  const stiffness =
    Math.exp(between(string.openMidi, string.stiffness.map(Math.log), open)) * 2 ** (stop / 6);
  const stopped = stop === 0 ? 0 : 1;
  const k = Math.max(0, stop) / 12;
  const bend = k ** pluck.stopTiltPower;
  const o = (open - openA) / 12;
  const u = loudness - middleLoudness;
  const partials: Partial[] = [];
  for (let number = 1; number <= mostPartials; number++) {
    const stretch = Math.sqrt((1 + stiffness * number * number) / (1 + 4 * stiffness));
    const frequency = number * fundamental * stretch;
    if (frequency > highest) break;
    const x = Math.log2(frequency / lowest);
    const touch =
      u * (pluck.tilt * x + pluck.tiltHigh * Math.max(0, x - 2)) +
      x * (pluck.stringTilt * o + stopped * (pluck.stopTilt + pluck.stopTiltOctave * bend));
    const early = Math.exp(
      atFrequency(decay.hz, decay.early, frequency) +
        stopped * (decay.stopped + decay.stoppedSlope * x) +
        decay.stopOctave * k +
        decay.string * o +
        decay.loud * u,
    );
    const ratio = Math.exp(
      -Math.exp(atFrequency(decay.hz, decay.ratio, frequency) + stopped * decay.ratioStopped),
    );
    partials.push({
      number,
      frequency,
      level:
        combLevel(tone, number, length, placeMm) +
        pickupLevel(tone, number, length) +
        atFrequency(response.hz, response.decibels, frequency) +
        touch,
      early: early * decay.scaleEarly,
      late: early * ratio * decay.scaleLate,
      share: atFrequency(decay.hz, decay.share, frequency) + stopped * decay.shareStopped,
    });
  }
  return partials;
}
