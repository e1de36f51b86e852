// Seeded random numbers: the same seed gives the same take everywhere.

/** A source of numbers from 0 up to, not including, 1. */
export type Random = () => number;

/**
 * Mulberry32: 32 bits of state, period 2^32, enough for choosing notes; integer arithmetic only, so that every engine
 * agrees to the last bit.
 */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** A seed of its own for part number `index` of what `seed` makes, so that changing one part leaves the others alone. */
export function derivedSeed(seed: number, index: number): number {
  const mixed = Math.imul((seed ^ 0x9e3779b9) >>> 0, 0x85ebca6b) ^ Math.imul(index + 1, 0xc2b2ae35);
  return (mixed ^ (mixed >>> 13)) >>> 0;
}
