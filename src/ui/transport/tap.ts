// A tempo from taps.

/** Taps further apart than this many milliseconds begin a new count. */
const longestGap = 2_000;
const tapsKept = 6;

/** Collects taps; each tap after the first gives the tempo of the last few, in taps a minute. */
export function makeTapper(): { tap(at: number): number | null } {
  let taps: readonly number[] = [];
  return {
    tap(at) {
      const last = taps.at(-1);
      taps =
        last === undefined || at - last > longestGap || at <= last ? [at] : [...taps, at].slice(-tapsKept);
      const first = taps[0];
      if (taps.length < 2 || first === undefined) return null;
      return (60_000 * (taps.length - 1)) / (at - first);
    },
  };
}
