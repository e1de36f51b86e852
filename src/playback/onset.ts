// Where a sound begins. Decoders add a delay of their own; the same measure on every decoded file takes it out.

/** A sound begins where it first reaches this share of its peak; make-samples.mjs measures by the same rule. */
export const onsetShare = 0.1;
/** Long enough to soften the cut, too short to hear. */
const fadeSeconds = 0.0002;

/** Index of the first sample at `onsetShare` of the loudest one; 0 in silence. */
export function onsetOf(samples: Float32Array): number {
  let peak = 0;
  for (const value of samples) peak = Math.max(peak, Math.abs(value));
  if (peak === 0) return 0;
  return samples.findIndex((value) => Math.abs(value) >= onsetShare * peak);
}

/** The sound from its onset on, so that starting it at a time sounds at that time. */
export function cutToOnset(samples: Float32Array, sampleRate: number): Float32Array {
  const cut = samples.slice(onsetOf(samples));
  const fade = Math.min(cut.length, Math.round(fadeSeconds * sampleRate));
  for (let i = 0; i < fade; i++) cut[i]! *= (i + 1) / (fade + 1);
  return cut;
}
