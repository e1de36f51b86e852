// The fast Fourier transform of a power of two (Cooley and Tukey 1965), in place.

/** Puts every value where the bits of its index, turned round, say. */
function reorder(real: Float64Array, imaginary: Float64Array): void {
  const size = real.length;
  for (let i = 1, j = 0; i < size; i++) {
    let bit = size >> 1;
    for (; j & bit; bit >>= 1) j ^= bit;
    j ^= bit;
    if (i >= j) continue;
    [real[i], real[j]] = [real[j]!, real[i]!];
    [imaginary[i], imaginary[j]] = [imaginary[j]!, imaginary[i]!];
  }
}

/**
 * Transforms so many complex numbers, a power of two of them: X_k = sum of x_n exp(-2 pi i k n / N).
 * For the way back exchange real and imaginary parts before and after, and divide by N.
 */
export function transform(real: Float64Array, imaginary: Float64Array): void {
  const size = real.length;
  reorder(real, imaginary);
  for (let length = 2; length <= size; length *= 2) {
    const half = length / 2;
    const step = (-2 * Math.PI) / length;
    for (let k = 0; k < half; k++) {
      const [cosine, sine] = [Math.cos(step * k), Math.sin(step * k)];
      for (let start = k; start < size; start += length) {
        const other = start + half;
        const [a, b] = [real[other]!, imaginary[other]!];
        const turnedReal = a * cosine - b * sine;
        const turnedImaginary = a * sine + b * cosine;
        real[other] = real[start]! - turnedReal;
        imaginary[other] = imaginary[start]! - turnedImaginary;
        real[start]! += turnedReal;
        imaginary[start]! += turnedImaginary;
      }
    }
  }
}
