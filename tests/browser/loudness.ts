// Loudness as broadcasters measure it.

/** Weighted for the ear after ITU-R BS.1770-4, annex 1, table 1 and 2: coefficients for 48 kHz. */
const weighting = [
  { b: [1.53512485958697, -2.69169618940638, 1.19839281085285], a: [-1.69065929318241, 0.73248077421585] },
  { b: [1, -2, 1], a: [-1.99004745483398, 0.99007225036621] },
] as const;

function filtered(samples: Float32Array, { b, a }: (typeof weighting)[number]): Float32Array {
  let [x1, x2, y1, y2] = [0, 0, 0, 0];
  return samples.map((x) => {
    const y = b[0] * x + b[1] * x1 + b[2] * x2 - a[0] * y1 - a[1] * y2;
    [x2, x1, y2, y1] = [x1, x, y1, y];
    return y;
  });
}

/** Loudness of samples at 48 kHz, LUFS for one channel: blocks of 400 ms, 75 % overlap, both gates. */
export function loudnessOf(samples: Float32Array): number {
  const rate = 48_000;
  const heard = weighting.reduce(filtered, samples);
  const size = 0.4 * rate;
  const powers: number[] = [];
  for (let start = 0; start + size <= heard.length; start += size / 4) {
    const block = heard.subarray(start, start + size);
    powers.push(block.reduce((sum, value) => sum + value * value, 0) / size);
  }
  const level = (list: readonly number[]): number =>
    -0.691 + 10 * Math.log10(list.reduce((sum, one) => sum + one, 0) / list.length);
  const loud = powers.filter((power) => level([power]) > -70);
  return level(loud.filter((power) => level([power]) > level(loud) - 10));
}
