// Sounds computed here for when the sample files cannot be had: plain, but in tune and in time.
import { seededRandom } from '../music';
import { pluckedString } from './pluck';
import { kitSound } from './kit';
import { computedDrums, type ComputedDrum, type DrumSound, type SampledDrum } from './types';

/** How a drum is imitated: assumptions, no source. */
interface Recipe {
  readonly seconds: number;
  /** Seconds in which it falls to a thousandth. */
  readonly decay: number;
  /** Share of noise against tones, 0 to 1. */
  readonly noise: number;
  /** Hz. */
  readonly tones: readonly number[];
  /** 0 leaves the noise as it is; near 1 only its highest part is left. */
  readonly brightness: number;
}

const metal = [3170, 4230, 5410, 6890, 8370];
const recipes: Readonly<Record<SampledDrum, Recipe>> = {
  ride: { seconds: 1.2, decay: 1.4, noise: 0.4, tones: metal, brightness: 0.9 },
  'ride bell': { seconds: 1.2, decay: 1.4, noise: 0.15, tones: [1570, 2330, 3170, 4230], brightness: 0.9 },
  'brush tap': { seconds: 0.2, decay: 0.15, noise: 1, tones: [], brightness: 0.3 },
  'brush sweep': { seconds: 0.4, decay: 0.5, noise: 1, tones: [], brightness: 0.6 },
  'closed hat': { seconds: 0.1, decay: 0.08, noise: 0.8, tones: metal, brightness: 0.95 },
  'pedal hat': { seconds: 0.12, decay: 0.1, noise: 0.9, tones: metal, brightness: 0.9 },
  'side stick': { seconds: 0.12, decay: 0.08, noise: 0.2, tones: [480, 1720], brightness: 0.5 },
  'block high': { seconds: 0.1, decay: 0.08, noise: 0, tones: [1250, 2890], brightness: 0 },
  'block low': { seconds: 0.1, decay: 0.08, noise: 0, tones: [890, 2060], brightness: 0 },
};

function imitatedDrum(sound: SampledDrum, sampleRate: number): Float32Array {
  const { seconds, decay, noise, tones, brightness } = recipes[sound];
  const random = seededRandom(sound.length);
  let low = 0;
  return Float32Array.from({ length: Math.round(seconds * sampleRate) }, (_, i) => {
    const time = i / sampleRate;
    const white = 2 * random() - 1;
    low += (1 - brightness) * (white - low);
    const hiss = brightness === 0 ? white : white - low;
    const ring = tones.reduce((sum, tone) => sum + Math.cos(2 * Math.PI * tone * time), 0);
    const mixed = noise * hiss + ((1 - noise) * ring) / (tones.length || 1);
    const left = Math.min(1, (seconds - time) / 0.01);
    return 0.5 * mixed * 10 ** ((-3 * time) / decay) * left;
  });
}

const isComputed = (sound: DrumSound): sound is ComputedDrum =>
  computedDrums.some((computed) => computed === sound);

/** Mono samples of a drum without a sample: one that is always computed, or an imitation; the same every time. */
export function drumWithoutSample(sound: DrumSound, sampleRate: number): Float32Array {
  return isComputed(sound) ? kitSound(sound, sampleRate) : imitatedDrum(sound, sampleRate);
}

/** Mono samples of a note of the bass or the chords, by MIDI number. */
export const substituteNote = (midi: number, sampleRate: number): Float32Array =>
  pluckedString({
    frequency: 440 * 2 ** ((midi - 69) / 12),
    sampleRate,
    seconds: 2.5,
    decay: midi < 48 ? 4 : 2.5,
    seed: midi,
  });
