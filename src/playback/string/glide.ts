// A string plucked hard is a little sharp at first: its swing stretches it. The sound is read a little faster, so that at
// time t it is where it would have been at t + lead (1 - exp(-t / settling)), lead = (2^(cents / 1200) - 1) settling.

/** Third-order interpolation between four samples (Catmull and Rom 1974). */
function interpolated(y0: number, y1: number, y2: number, y3: number, share: number): number {
  const c1 = (y2 - y0) / 2;
  const c2 = y0 - 2.5 * y1 + 2 * y2 - y3 / 2;
  const c3 = (y3 - y0) / 2 + 1.5 * (y1 - y2);
  return ((c3 * share + c2) * share + c1) * share + y1;
}

/**
 * In place: sharp by so many cents at the start, true after a few times `settling` (seconds). The last samples, for which
 * nothing is left to be read, stay silent.
 */
export function glideFrom(buffer: Float32Array, cents: number, settling: number, sampleRate: number): void {
  const constant = settling * sampleRate;
  const lead = (2 ** (cents / 1200) - 1) * constant;
  const fall = Math.exp(-1 / constant);
  const at = (i: number): number => buffer[i] ?? 0;
  let left = 1;
  // What is read lies ahead of what is written by less than `lead`; one sample before is kept.
  let before = 0;
  for (let t = 0; t < buffer.length; t++) {
    const place = t + lead * (1 - left);
    left *= fall;
    const i = Math.floor(place);
    const y0 = i === t ? before : at(i - 1);
    before = at(t);
    buffer[t] = interpolated(y0, at(i), at(i + 1), at(i + 2), place - i);
  }
}
