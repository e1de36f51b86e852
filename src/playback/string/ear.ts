// Loudness as the ear weights it: the two filters of ITU-R BS.1770-4, annex 1, as analogue ones, which hold for every rate.

const shelf = { hertz: 1681.97445, q: 0.70717524, high: 1.5848647, band: 1.25872093 };
const rumble = { hertz: 38.1354709, q: 0.50032704 };
/** The constant of the measure, -0.691 LU. */
const constant = 10 ** -0.0691;

/** What a power at a frequency counts, as a factor. */
export function weightAt(frequency: number): number {
  const s = frequency / shelf.hertz;
  const above = (1 - shelf.high * s * s) ** 2 + ((shelf.band * s) / shelf.q) ** 2;
  const below = (1 - s * s) ** 2 + (s / shelf.q) ** 2;
  const r = frequency / rumble.hertz;
  return (above / below) * (r ** 4 / ((1 - r * r) ** 2 + (r / rumble.q) ** 2)) * constant;
}

/** LUFS of a weighted mean power. */
export const lufs = (power: number): number => 10 * Math.log10(power);
