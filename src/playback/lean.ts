// Where a part is against the beat: a steady lean of its own, and a drift that comes and goes over some bars.
import leanData from '../../shared/rhythm/lean.json' with { type: 'json' };
import { derivedSeed, seededRandom, ticksPerQuarter, type Bpm } from '../music';
import { parts, type Part } from './types';

const barOfFour = 4 * ticksPerQuarter;

/**
 * Ticks by which a part is later than the beat at a tick of the form, a whole number; negative ahead. The drift is the mean
 * of two sines with periods of so many bars (shared/rhythm/lean.json) and seeded phases.
 */
export function leanOf(part: Part, tick: number, seed: number, tempo: Bpm): number {
  const { lean, drift } = leanData.parts[part];
  const random = seededRandom(derivedSeed(seed ^ 0x1ea4, parts.indexOf(part)));
  const waves = leanData.driftBars.map((bars) =>
    Math.sin(2 * Math.PI * (tick / barOfFour / bars + random())),
  );
  const drifted = (drift * waves.reduce((sum, wave) => sum + wave, 0)) / waves.length;
  return Math.round(((lean + drifted) * tempo * ticksPerQuarter) / 60);
}
