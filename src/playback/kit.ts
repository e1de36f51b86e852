// Drums computed from damped modes and noise, for which there are no samples. All figures are assumed: shared/sound/kit.json.
//
//   s(t) = sum of a cos(2 pi f t - pi/2) 10^(-3 t / T)  +  bands of noise, each with a level and a fall of its own
//
// then brought to the level of the sampled drums: the root mean square of the first `measured` seconds.
import kitData from '../../shared/sound/kit.json' with { type: 'json' };
import { amplitude } from './string/figures';
import { addModes } from './string/modes';
import { addNoise } from './string/noise';
import { fadeOut } from './string/note';
import type { ComputedDrum } from './types';

/** dB under the loudest mode at which one is over. */
const floor = -60;
/** Decibels in which a level falls in its `t60`. */
const fall = 60;

interface Recipe {
  readonly seconds: number;
  readonly measured: number;
  readonly seed: number;
  readonly modes: readonly (readonly number[])[];
  readonly hz: readonly number[];
  readonly levels: readonly number[];
  readonly t60: readonly number[];
  readonly riseMs: number;
}
const recipes: Readonly<Record<ComputedDrum, Recipe>> = kitData.sounds;

/** Mono samples of a drum; the same every time, as loud as a sampled one. */
export function kitSound(sound: ComputedDrum, sampleRate: number): Float32Array {
  const { seconds, measured, seed, modes, hz, levels, t60, riseMs } = recipes[sound];
  const samples = new Float32Array(Math.round(seconds * sampleRate));
  addModes(
    samples,
    modes.map(([frequency, decibels, time]) => ({
      frequency: frequency!,
      amplitude: amplitude(decibels!),
      fall: fall / time!,
      // A skin begins to move from rest.
      phase: -Math.PI / 2,
    })),
    sampleRate,
    floor,
  );
  addNoise(samples, { hz, levels, t60, rise: riseMs / 1000 }, sampleRate, seed);
  fadeOut(samples, sampleRate);
  const first = samples.subarray(0, Math.round(measured * sampleRate));
  const power = first.reduce((sum, value) => sum + value * value, 0) / first.length;
  const gain = amplitude(kitData.loudness) / Math.sqrt(power);
  return samples.map((value) => value * gain);
}
