import { describe, expect, it } from 'vitest';
import { cutToOnset, onsetOf } from '../../src/playback/onset';
import { pluckedString } from '../../src/playback/pluck';
import { drumWithoutSample, substituteNote } from '../../src/playback/substitutes';
import { drumSounds } from '../../src/playback';

const sampleRate = 44_100;
const loudest = (samples: Float32Array): number =>
  samples.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
const power = (samples: Float32Array): number =>
  samples.reduce((sum, value) => sum + value * value, 0) / samples.length;

/** How strongly a frequency is in the sound (one bin of a Fourier transform, Hann window). */
function strength(samples: Float32Array, hertz: number): number {
  let [real, imaginary] = [0, 0];
  const step = (2 * Math.PI * hertz) / sampleRate;
  samples.forEach((value, i) => {
    const windowed = value * (0.5 - 0.5 * Math.cos((2 * Math.PI * i) / samples.length));
    real += windowed * Math.cos(step * i);
    imaginary += windowed * Math.sin(step * i);
  });
  return Math.hypot(real, imaginary);
}

/** The strongest frequency within a quarter tone of a guess, by golden-section search. */
function pitchNear(samples: Float32Array, guess: number): number {
  const golden = (Math.sqrt(5) - 1) / 2;
  let low = guess * 2 ** (-0.5 / 12);
  let high = guess * 2 ** (0.5 / 12);
  for (let i = 0; i < 28; i++) {
    const span = golden * (high - low);
    if (strength(samples, high - span) > strength(samples, low + span)) high = low + span;
    else low = high - span;
  }
  return (low + high) / 2;
}

describe('the plucked string', () => {
  it.each([28, 33, 36, 41, 46, 54, 60])('of MIDI %i is in tune within 2 cents', (midi) => {
    const hertz = 440 * 2 ** ((midi - 69) / 12);
    const samples = substituteNote(midi, sampleRate).subarray(0.1 * sampleRate, 1.6 * sampleRate);
    const cents = 1200 * Math.log2(pitchNear(samples, hertz) / hertz);
    expect(Math.abs(cents)).toBeLessThan(2);
  });

  it('dies away as asked and ends in silence', () => {
    const options = { frequency: 55, sampleRate, seconds: 3, decay: 3, seed: 1 };
    const samples = pluckedString(options);
    const early = strength(samples.subarray(0.2 * sampleRate, 0.7 * sampleRate), 55);
    const late = strength(samples.subarray(1.7 * sampleRate, 2.2 * sampleRate), 55);
    // 60 dB in 3 s is 30 dB in 1.5 s.
    expect(20 * Math.log10(early / late)).toBeGreaterThan(27);
    expect(20 * Math.log10(early / late)).toBeLessThan(33);
    expect(Math.abs(samples.at(-1)!)).toBe(0);
  });

  it('begins at once, is not clipped, and is the same for the same seed', () => {
    const samples = substituteNote(33, sampleRate);
    expect(onsetOf(samples)).toBeLessThan(0.005 * sampleRate);
    expect(loudest(samples)).toBeCloseTo(0.7, 5);
    expect(substituteNote(33, sampleRate).every((value, i) => value === samples[i])).toBe(true);
  });
});

describe('the computed drums', () => {
  it.each(drumSounds)('%s sounds at once, dies away and is not clipped', (sound) => {
    const samples = drumWithoutSample(sound, sampleRate);
    // A brush that goes round has no stroke.
    const latest = sound === 'brush stir' ? 0.03 : 0.002;
    expect(onsetOf(samples)).toBeLessThan(latest * sampleRate);
    expect(loudest(samples)).toBeLessThan(1);
    const third = Math.floor(samples.length / 3);
    expect(power(samples.subarray(0, third))).toBeGreaterThan(4 * power(samples.subarray(2 * third)));
  });
});

describe('the onset', () => {
  it('is the first sample at a tenth of the peak, whatever comes before', () => {
    const samples = new Float32Array(1000);
    samples.fill(0.01, 100, 300);
    samples[300] = 0.09;
    samples[301] = -0.1;
    samples[400] = 1;
    expect(onsetOf(samples)).toBe(301);
    expect(onsetOf(new Float32Array(10))).toBe(0);
  });

  it('is where the cut sound begins, softened over a fifth of a millisecond', () => {
    const samples = new Float32Array(5000).fill(0.5, 1105);
    const cut = cutToOnset(samples, sampleRate);
    expect(cut).toHaveLength(5000 - 1105);
    expect(Math.abs(cut[0]!)).toBeLessThan(0.1);
    expect(cut[9]).toBe(0.5);
  });
});
