// What is heard of a hand that shifts with nothing to cover it: the finger's noise along the string and, where the finger
// stays on a string that still sounds, its pitch on the way.
//
// The pitch goes from stop to stop as a hand does, slow at both ends: s(t) = 3 t^2 - 2 t^3 of the way at the share t of the
// time; partial n has the phase 2 pi n times the integral of the frequency.
import { amplitude, hertz, toneOf, touchFigures } from './figures';
import { addNoise } from './noise';
import { fadeOut, levelOf } from './note';
import { middleLoudness, partialsOf } from './partials';
import type { SoundingString } from './stroke';

export interface SlideWish extends SoundingString {
  /** Stops in semitones above the open string. */
  readonly from: number;
  readonly to: number;
  /** The finger stays on the string, which still sounds. */
  readonly isOnString: boolean;
  readonly seed: number;
}

const { slide } = touchFigures;
/** Partials above are left out, Hz. */
const highest = 3_000;

const eased = (share: number): number => share * share * (3 - 2 * share);

/** Seconds that a shift is heard: it grows with the way, in the time that there is. */
export const slideSeconds = (from: number, to: number, available: number): number =>
  Math.min(slide.most, Math.max(slide.least, Math.abs(to - from) * 0.025), Math.max(slide.least, available));

/**
 * Amplitudes of the partials of the string while a finger slides along it, from the lowest on: at the stop where it begins and
 * at the one where it ends, each together as loud as the other. In between they go with the finger, so that the string grows
 * duller on the way up as it does in notes.
 */
export function slidingSizes(
  wish: Pick<SlideWish, 'kind' | 'open' | 'lengthMm' | 'from' | 'to'>,
): readonly (readonly [number, number])[] {
  const tone = toneOf(wish.kind);
  const loudness = middleLoudness;
  const sizesAt = (stop: number): readonly number[] => {
    const stroke = { ...wish, stop, loudness, seed: 0, touch: 'plucked' } as const;
    const partials = partialsOf(tone, stroke, loudness, tone.pluck.fromBridgeMm, highest);
    const sizes = partials.slice(0, slide.partials).map(({ level }) => amplitude(level));
    const power = sizes.reduce((sum, size) => sum + size ** 2 / 2, 0);
    const gain = amplitude(levelOf(tone, loudness) + slide.ringing) / Math.sqrt(power);
    return sizes.map((size) => size * gain);
  };
  const [first, last] = [sizesAt(wish.from), sizesAt(wish.to)];
  const count = Math.max(first.length, last.length);
  return Array.from({ length: count }, (_, i) => [first[i] ?? 0, last[i] ?? 0]);
}

function addPitch(buffer: Float32Array, wish: SlideWish, sampleRate: number): void {
  const sizes = slidingSizes(wish);
  let turns = 0;
  buffer.forEach((_, i) => {
    const share = i / buffer.length;
    const way = eased(share);
    turns += hertz(wish.open + wish.from + (wish.to - wish.from) * way) / sampleRate;
    // It comes in with the finger and leaves with it.
    const level = Math.sin(Math.PI * Math.min(1, share * 1.2)) ** 2;
    sizes.forEach(([first, last], partial) => {
      const size = first + (last - first) * way;
      buffer[i]! += level * size * Math.sin(2 * Math.PI * (partial + 1) * turns);
    });
  });
}

/** Mono samples of a shift of so many seconds, to end where the next note begins. */
export function slideNoise(wish: SlideWish, seconds: number, sampleRate: number): Float32Array {
  const tone = toneOf(wish.kind);
  const buffer = new Float32Array(Math.max(1, Math.round(seconds * sampleRate)));
  const base = levelOf(tone, middleLoudness) + (wish.isOnString ? 0 : slide.offString);
  const levels = slide.decibels.map((one) => one + base);
  // As long as the shift, and no longer: the bands fall by 20 dB in it.
  const t60 = levels.map(() => seconds * 3);
  addNoise(buffer, { hz: slide.hz, levels, t60, rise: seconds / 3 }, sampleRate, wish.seed);
  if (wish.isOnString) addPitch(buffer, wish, sampleRate);
  fadeOut(buffer, sampleRate);
  return buffer;
}
