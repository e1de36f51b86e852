// How loud the bass and the rest of the band are: ITU-R BS.1770-4 on the full range, and on what small speakers leave.
import { transform } from '../../src/playback/fourier';
import type { Sides } from '../../src/playback/mixdown';
import { lufs, weightAt } from '../../src/playback/string/ear';

/** Corners of the high-passes, Hz; 0 leaves all. A tablet loses what is under the first, a phone what is under the second. */
export const corners = [0, 180, 350] as const;

const block = 0.4;
const hop = 0.1;
/** Gates of the measure: LUFS, and LU under the mean of what is over that. */
const gates = { silence: -70, relative: -10 } as const;

/** What counts of the power at a frequency: the ear's weight, and a Butterworth high-pass of the fourth order. */
const weightOver = (corner: number, frequency: number): number =>
  frequency === 0 ? 0 : weightAt(frequency) / (1 + (corner / frequency) ** 8);

/** Weighted power of every block of a side, for each corner. */
function blockPowers(samples: Float32Array, sampleRate: number): readonly number[][] {
  const length = Math.round(block * sampleRate);
  const size = 2 ** Math.ceil(Math.log2(length));
  const window = Float64Array.from(
    { length },
    (_, i) => (0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / length)) * Math.sqrt(8 / 3),
  );
  const weights = corners.map((corner) =>
    Float64Array.from({ length: size / 2 }, (_, k) => weightOver(corner, (k * sampleRate) / size)),
  );
  const [real, imaginary] = [new Float64Array(size), new Float64Array(size)];
  const powers: number[][] = [];
  for (let from = 0; from + length <= samples.length; from += Math.round(hop * sampleRate)) {
    real.fill(0);
    imaginary.fill(0);
    for (let i = 0; i < length; i++) real[i] = samples[from + i]! * window[i]!;
    transform(real, imaginary);
    powers.push(
      weights.map((weight) => {
        let sum = 0;
        for (let k = 1; k < size / 2; k++) sum += weight[k]! * (real[k]! ** 2 + imaginary[k]! ** 2);
        return (2 * sum) / size / length;
      }),
    );
  }
  return powers;
}

/** LUFS of two sides for each of the corners: both gates, set by the full range. */
export function loudnessOver({ left, right }: Sides, sampleRate: number): readonly number[] {
  const [a, b] = [blockPowers(left, sampleRate), blockPowers(right, sampleRate)];
  const powers = a.map((one, i) => one.map((power, corner) => power + b[i]![corner]!));
  const mean = (list: readonly (readonly number[])[], corner: number): number =>
    lufs(list.reduce((sum, one) => sum + one[corner]!, 0) / list.length);
  const loud = powers.filter(([power]) => lufs(power!) > gates.silence);
  const heard = loud.filter(([power]) => lufs(power!) > mean(loud, 0) + gates.relative);
  return corners.map((_, corner) => mean(heard, corner));
}
