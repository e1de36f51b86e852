// A sound in a room: fast convolution by blocks (overlap-add; Oppenheim and Schafer, Discrete-Time Signal Processing).
// Both sides come out of one transform back: what goes in is real, so X (L + i R) has one side as its real part and the
// other as its imaginary part.
import { transform } from './fourier';

/**
 * Adds what a room makes of a sound to the two sides.
 * @param response what a single sample comes back as, left and right
 */
export function addRoom(
  sound: Float32Array,
  response: readonly [Float32Array, Float32Array],
  sides: readonly [Float32Array, Float32Array],
): void {
  const [left, right] = response;
  const size = 2 ** Math.ceil(Math.log2(left.length * 2));
  const block = size - left.length + 1;
  const [roomReal, roomImaginary] = [new Float64Array(size), new Float64Array(size)];
  roomReal.set(left);
  roomImaginary.set(right);
  transform(roomReal, roomImaginary);
  const [real, imaginary] = [new Float64Array(size), new Float64Array(size)];
  for (let from = 0; from < sound.length; from += block) {
    const part = sound.subarray(from, from + block);
    if (part.every((value) => value === 0)) continue;
    real.fill(0);
    imaginary.fill(0);
    real.set(part);
    transform(real, imaginary);
    for (let k = 0; k < size; k++) {
      const [a, b, c, d] = [real[k]!, imaginary[k]!, roomReal[k]!, roomImaginary[k]!];
      // Exchanged, for the way back.
      imaginary[k] = a * c - b * d;
      real[k] = a * d + b * c;
    }
    transform(real, imaginary);
    const end = Math.min(size, sides[0].length - from);
    for (let i = 0; i < end; i++) {
      sides[0][from + i]! += imaginary[i]! / size;
      sides[1][from + i]! += real[i]! / size;
    }
  }
}
