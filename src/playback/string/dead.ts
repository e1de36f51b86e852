// A muted string: the stroke is heard, the pitch is not.
import { derivedSeed, seededRandom } from '../../music';
import { toneOf } from './figures';
import { addNoise } from './noise';
import { fadeOut, levelOf } from './note';
import type { StringStroke } from './stroke';

const seconds = 0.35;
/** Either side, dB. */
const spread = 1;
const openA = 33;
const middle = 200;

/** Mono samples of a muted stroke on a string, the stop of no matter. */
export function deadNote(stroke: StringStroke, sampleRate: number): Float32Array {
  const tone = toneOf(stroke.kind);
  const { dead, noise } = tone;
  const random = seededRandom(stroke.seed);
  const strayed = (): number => (2 * random() - 1) * spread;
  const base = levelOf(tone, stroke.loudness) + dead.level + strayed();
  const levels = dead.decibels.map((one, band) => {
    const octaves = Math.log2(Math.sqrt(noise.hz[band]! * noise.hz[band + 1]!) / middle);
    return one + base + dead.string * ((stroke.open - openA) / 12) * octaves + strayed();
  });
  const buffer = new Float32Array(Math.round(seconds * sampleRate));
  addNoise(
    buffer,
    { hz: noise.hz, levels, t60: dead.t60, rise: dead.riseMs / 1000 },
    sampleRate,
    derivedSeed(stroke.seed, stroke.open),
  );
  fadeOut(buffer, sampleRate);
  return buffer;
}
