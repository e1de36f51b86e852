// Where each part is heard, and how a small room answers.
import spaceData from '../../shared/sound/space.json' with { type: 'json' };
import { seededRandom } from '../music';
import type { Part } from './types';

const { parts: places, room } = spaceData;

/** Amplitudes left and right; a sound in the middle keeps its level in both, one that moves keeps its power. */
export function sidesOf(part: Part, isWide: boolean): readonly [number, number] {
  const angle = ((isWide ? places[part].pan : 0) + 1) * (Math.PI / 4);
  return [Math.SQRT2 * Math.cos(angle), Math.SQRT2 * Math.sin(angle)];
}

/** Amplitude with which a part goes into the room. */
export const roomShare = (part: Part): number => 10 ** (places[part].room / 20);

/** In place: a first-order high-pass and low-pass. */
function bandLimit(samples: Float32Array, sampleRate: number): void {
  const low = 1 - Math.exp((-2 * Math.PI * room.lowHertz) / sampleRate);
  const high = 1 - Math.exp((-2 * Math.PI * room.highHertz) / sampleRate);
  let [below, smooth] = [0, 0];
  for (let i = 0; i < samples.length; i++) {
    below += low * (samples[i]! - below);
    smooth += high * (samples[i]! - below - smooth);
    samples[i] = smooth;
  }
}

function side(
  reflections: readonly (readonly number[])[],
  seed: number,
  sampleRate: number,
): Float32Array<ArrayBuffer> {
  const samples = new Float32Array(Math.round(room.seconds * sampleRate));
  for (const [milliseconds, decibels] of reflections)
    samples[Math.round((milliseconds! / 1000) * sampleRate)]! += 10 ** (decibels! / 20);
  const random = seededRandom(seed);
  const first = Math.round((room.tailMs / 1000) * sampleRate);
  // As much power whatever the rate.
  const size = 10 ** (room.tailDecibels / 20) * Math.sqrt((3 * 44_100) / sampleRate);
  for (let i = first; i < samples.length; i++) {
    const fall = 10 ** ((-3 * (i - first)) / (room.t60 * sampleRate));
    samples[i]! += size * fall * (2 * random() - 1);
  }
  bandLimit(samples, sampleRate);
  return samples;
}

/** What a single sample in the room comes back as, left and right. */
export const roomResponse = (
  sampleRate: number,
): readonly [Float32Array<ArrayBuffer>, Float32Array<ArrayBuffer>] => [
  side(room.left, room.seed, sampleRate),
  side(room.right, room.seed + 1, sampleRate),
];
