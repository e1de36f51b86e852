// How a sound comes in and dies away, whoever makes it: the player's nodes or arithmetic.

/** Time constant, in seconds, of a fade that is all but over (1 in 200) after a short time. */
export const constantOf = (seconds: number): number => Math.log1p(seconds) / Math.log(200);
/** How many times its length a fade goes on before its source is ended: 80 dB down. */
export const faded = 2;
/** How all but the bass come in, and die away when they are damped. */
export const usualFade = { attack: 0, release: 0.15 } as const;

/** The sound nearest to a pitch; of two equally near, the higher one. */
export function nearestKey(keys: readonly number[], midi: number): number | undefined {
  let nearest: number | undefined;
  for (const key of keys) {
    if (nearest === undefined) nearest = key;
    const nearer = Math.abs(key - midi) - Math.abs(nearest - midi);
    if (nearer < 0 || (nearer === 0 && key > nearest)) nearest = key;
  }
  return nearest;
}
