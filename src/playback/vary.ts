// Slight differences from hit to hit, all from one seed.
import patternData from '../../shared/rhythm/patterns.json' with { type: 'json' };
import type { Random } from '../music';

const { velocityShare, offBeatTicks } = patternData.variation;

/** A velocity a little to either side of the one given, within 0..1. */
export type Vary = (velocity: number, random: Random) => number;

const within = (velocity: number): number => Math.min(1, Math.max(0.05, velocity));

export const varied: Vary = (velocity, random) => within(velocity * (1 + velocityShare * (2 * random() - 1)));

/** As written. */
export const exact: Vary = within;

/** Ticks by which an off-beat of the drums is early or late. */
export const shifted = (random: Random): number => Math.round(offBeatTicks * (2 * random() - 1));
