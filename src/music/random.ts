// Seeded random numbers: the same seed gives the same take everywhere.

/** A source of numbers from 0 up to, not including, 1. */
export type Random = () => number;

const stride = 0x6d2b79f5;

/** A state of 32 bits as a number from 0 up to, not including, 1. */
function scrambled(state: number): number {
  let mixed = Math.imul(state ^ (state >>> 15), state | 1);
  mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)) ^ mixed;
  return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
}

/**
 * Mulberry32: 32 bits of state, period 2^32, enough for choosing notes; integer arithmetic only, so that every engine
 * agrees to the last bit.
 */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (state + stride) >>> 0;
    return scrambled(state);
  };
}

/** Fills an array with the first numbers that `seededRandom` gives for a seed: many times as fast as asking for each. */
export function fillRandom(numbers: Float64Array, seed: number): void {
  let state = seed | 0;
  for (let i = 0; i < numbers.length; i++) {
    state = (state + stride) | 0;
    numbers[i] = scrambled(state);
  }
}

/** A seed of its own for part number `index` of what `seed` makes, so that changing one part leaves the others alone. */
export function derivedSeed(seed: number, index: number): number {
  const mixed = Math.imul((seed ^ 0x9e3779b9) >>> 0, 0x85ebca6b) ^ Math.imul(index + 1, 0xc2b2ae35);
  return (mixed ^ (mixed >>> 13)) >>> 0;
}
