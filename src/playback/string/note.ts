// A plucked note of any string at any stop: partials in two planes that beat, the finger's noise and the body's thump.
import { derivedSeed, seededRandom, type Random } from '../../music';
import { lufs, weightAt } from './ear';
import { about, amplitude, toneOf, touchFigures, type Tone } from './figures';
import { glideFrom } from './glide';
import { addModes, meanPower, type VibrationMode } from './modes';
import { addNoise } from './noise';
import { middleLoudness, partialsOf, type Partial } from './partials';
import { speakingLength, type StringStroke } from './stroke';

/** dB under the loudest partial at which one is over. */
const floor = -60;
/** Loudness is that of so many seconds. */
const loudSeconds = 0.5;
const highestPartial = 7_000;
/** A glide of fewer cents is not heard. */
const leastGlide = 0.3;
const fadeSeconds = 0.02;
/** A finger pulls or hammers on the string about so many semitones away (our assumption). */
const slurred = 2;
const openStrings = 128;

/** LUFS of the first half second of a note of this loudness. */
export const levelOf = ({ level }: Tone, loudness: number): number =>
  level.full + level.perUnit * (loudness - 1);

/** How far apart the two planes of a partial are, in Hz, and how much is in the second: so on this string, whoever plucks it. */
function planesOf(
  { beats }: Tone,
  { open, stop }: StringStroke,
  { number, frequency }: Partial,
): readonly [number, number] {
  const random = seededRandom(derivedSeed(open * openStrings + stop, number));
  const apart = beats.median * Math.exp(about(random, beats.spread));
  const share = beats.least + (beats.most - beats.least) * random();
  return [(number <= beats.even ? beats.lowest : apart) * frequency, share];
}

/** A partial as decaying sines: two planes at first, what is left of them, and the sine that makes it rise. */
function modesOf(
  tone: Tone,
  stroke: StringStroke,
  partial: Partial,
  random: Random,
): readonly VibrationMode[] {
  const { attack, pluck, repeats } = tone;
  const { frequency, early, late, share } = partial;
  const size = amplitude(partial.level + about(random, repeats.partial));
  const left = size * amplitude(share);
  const [distance, second] = planesOf(tone, stroke, partial);
  const phase = (random() - 0.5) * pluck.phases - Math.PI / 2;
  const turned = phase + random() * (partial.number <= tone.beats.even ? pluck.phases / 2 : 2 * Math.PI);
  const slow = (stroke.stop === 0 ? attack.open : 1) * touchFigures.touches[stroke.touch].rise;
  const rise = (attack.milliseconds / 1000) * (frequency / 100) ** attack.power * slow;
  // Planes that begin with any phase hold as much power together as one alone.
  const together = partial.number <= tone.beats.even ? 1 : Math.hypot(second, 1 - second);
  const both = (size - left) / together;
  const first = { amplitude: both * (1 - second), fall: early, phase };
  const other = { amplitude: both * second, fall: early, phase: turned };
  // The ear's pitch is that of the whole: the planes lie about it by their power.
  const upper = second ** 2 / (second ** 2 + (1 - second) ** 2);
  const planes = [
    { ...first, frequency: frequency - distance * upper },
    { ...other, frequency: frequency + distance * (1 - upper) },
    { frequency: frequency - (distance * upper) / 2, amplitude: left, fall: late, phase },
  ];
  // At the start one that dies away as the partial rises cancels all of them.
  const real = planes.reduce((sum, mode) => sum + mode.amplitude * Math.cos(mode.phase), 0);
  const imaginary = planes.reduce((sum, mode) => sum + mode.amplitude * Math.sin(mode.phase), 0);
  const fall = early + 20 / Math.LN10 / rise;
  const risen = { amplitude: -Math.hypot(real, imaginary), phase: Math.atan2(imaginary, real) };
  return [...planes, { ...risen, frequency, fall }];
}

/** Where the string is set going, mm from the bridge. */
function placeOf({ pluck }: Tone, stroke: StringStroke, random: Random, spread: number): number {
  const strayed = about(random, spread);
  switch (stroke.touch) {
    case 'plucked':
      return pluck.fromBridgeMm + strayed;
    case 'raked':
      return pluck.fromBridgeMm + touchFigures.rakedMm + strayed;
    // Near the far end of what sounds: the comb is the same, counted from there.
    case 'pulled':
      return speakingLength(stroke, stroke.stop + slurred);
    case 'hammered':
      return speakingLength(stroke, stroke.stop) * (1 - 1 / 40);
  }
}

/** In place: silence at the very end, so that a sound that is cut there does not click. */
export function fadeOut(buffer: Float32Array, sampleRate: number): void {
  const length = Math.min(buffer.length, Math.round(fadeSeconds * sampleRate));
  for (let i = 0; i < length; i++) buffer[buffer.length - 1 - i]! *= i / length;
}

/** Mono samples of a note; the same stroke gives the same ones. */
export function pluckedNote(stroke: StringStroke, seconds: number, sampleRate: number): Float32Array {
  const tone = toneOf(stroke.kind);
  const { repeats, noise, glide } = tone;
  const touch = touchFigures.touches[stroke.touch];
  const random = seededRandom(stroke.seed);
  const wished = Math.min(1, Math.max(0, stroke.loudness)) + touch.loudness;
  const loudness = wished + about(random, repeats.loudness);
  const place = placeOf(tone, stroke, random, repeats.placeMm);
  const level = levelOf(tone, loudness) + about(random, repeats.level);
  const buffer = new Float32Array(Math.max(1, Math.round(seconds * sampleRate)));
  const highest = Math.min(highestPartial, sampleRate * 0.45);
  const groups = partialsOf(tone, stroke, loudness, place, highest).map((partial) => ({
    weight: weightAt(partial.frequency),
    modes: modesOf(tone, stroke, partial, random),
  }));
  const power = groups.reduce((sum, { weight, modes }) => sum + weight * meanPower(modes, loudSeconds), 0);
  const gain = amplitude(level - lufs(power));
  const modes = groups.flatMap((group) =>
    group.modes.map((mode) => ({ ...mode, amplitude: mode.amplitude * gain })),
  );
  addModes(buffer, modes, sampleRate, floor);
  const cents = glide.cents * Math.max(0, loudness) ** 2 * (stroke.stop === 0 ? 1 : glide.stopped);
  if (cents > leastGlide) glideFrom(buffer, cents, glide.seconds, sampleRate);
  const base = levelOf(tone, loudness) + touch.noise;
  const levels = noise.decibels.map(
    (one, band) => one + base + noise.loud[band]! * (loudness - middleLoudness),
  );
  addNoise(
    buffer,
    { hz: noise.hz, levels, t60: noise.t60, rise: noise.riseMs / 1000 },
    sampleRate,
    derivedSeed(stroke.seed, stroke.open * openStrings + stroke.stop),
  );
  fadeOut(buffer, sampleRate);
  return buffer;
}
