// How fast the machine is, so that the figures of different days and machines can be set beside each other.

/** Steps of the plain loop. */
export const loopSteps = 50_000_000;

/** Milliseconds of a plain loop over whole numbers: one processor, no memory. Needs nothing from outside, so that a page can run it. */
export function plainLoop(steps: number): number {
  const start = performance.now();
  let state = 1;
  for (let step = 0; step < steps; step++) {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
  }
  // The state is never 0; asking keeps the loop from being left out.
  return state === 0 ? Number.NaN : performance.now() - start;
}

/** The shortest of a few loops. */
export const loopTime = (): number => Math.min(...Array.from({ length: 5 }, () => plainLoop(loopSteps)));
