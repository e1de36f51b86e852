// The whole band as samples by arithmetic alone, so that Node and every browser give the same: each sound with its level,
// its way in and its damping, the parts with their places, the room. What the player's nodes do, done here.
import { addRoom } from './convolve';
import type { Deed } from './deeds';
import { gainOf, masterGain } from './mix';
import { withLift, withPresence } from './presence';
import { roomResponse, roomShare, sidesOf } from './space';
import type { StringSource } from './strings';
import { faded, constantOf, nearestKey, usualFade } from './voice';
import { parts, type BassEvent, type DrumSound, type Mix, type Part, type PlaybackEvent } from './types';

/** Samples of the band at the rate of the rendering, each with its onset at its first sample. */
export interface SampleBank {
  /** Notes of the sampled bass; not needed where there are strings. */
  readonly bass: ReadonlyMap<number, Float32Array>;
  readonly chords: ReadonlyMap<number, Float32Array>;
  readonly drums: ReadonlyMap<DrumSound, Float32Array>;
  readonly strings: StringSource<Float32Array> | null;
}

/** How the band is heard. */
export interface HeardBand {
  readonly mix: Mix;
  /** Parts have places from left to right. */
  readonly isWide: boolean;
  readonly hasRoom: boolean;
}

export interface Sides {
  readonly left: Float32Array;
  readonly right: Float32Array;
}

interface Voice {
  readonly sound: Float32Array;
  readonly rate: number;
  readonly gain: number;
  readonly time: number;
  readonly attack: number;
  readonly release: number;
}

const ofKey = (
  sounds: ReadonlyMap<number, Float32Array>,
  midi: number,
): { sound: Float32Array; rate: number } => {
  const key = nearestKey([...sounds.keys()], midi);
  const sound = key === undefined ? undefined : sounds.get(key);
  return sound ? { sound, rate: 2 ** ((midi - key!) / 12) } : { sound: new Float32Array(), rate: 1 };
};

function bassVoices(event: BassEvent, time: number, { bass, strings }: SampleBank): readonly Voice[] {
  const { velocity, attack, release, midi } = event;
  if (!strings) return [{ ...ofKey(bass, midi), gain: velocity, time, attack, release }];
  const note = { ...strings.note(event), time, attack: 0, release };
  const slide = strings.slide(event);
  if (!slide || slide.seconds > time) return [note];
  return [{ sound: slide.sound, rate: 1, gain: 1, time: time - slide.seconds, ...usualFade }, note];
}

function voicesOf(event: PlaybackEvent, time: number, bank: SampleBank): readonly Voice[] {
  if (event.part === 'bass') return bassVoices(event, time, bank);
  const plain = { gain: event.velocity, time, ...usualFade };
  if (event.part === 'chords') return event.midis.map((midi) => ({ ...plain, ...ofKey(bank.chords, midi) }));
  return [{ ...plain, rate: 1, sound: bank.drums.get(event.sound) ?? new Float32Array() }];
}

/** Adds a sound until it is over, or has died away after its damping. */
function addVoice(buffer: Float32Array, voice: Voice, damped: number, sampleRate: number): void {
  const { sound, rate, gain, time, attack, release } = voice;
  const start = Math.round(time * sampleRate);
  const dampAt = damped === Infinity ? Infinity : damped * sampleRate - start;
  const stopAt = (damped + faded * release - time) * sampleRate;
  const length = Math.min(Math.floor((sound.length - 1) / rate), buffer.length - start, stopAt);
  const rise = attack > 0 ? 1 / (constantOf(attack) * sampleRate) : 0;
  const fall = Math.exp(-1 / (constantOf(release) * sampleRate));
  let left = 1;
  for (let i = Math.max(0, -start); i < length; i++) {
    const place = i * rate;
    const whole = Math.floor(place);
    const here = sound[whole]!;
    const value = rate === 1 ? here : here + (place - whole) * (sound[whole + 1]! - here);
    const risen = rise === 0 ? 1 : 1 - Math.exp(-i * rise);
    if (i >= dampAt) left = i - dampAt < 1 ? fall ** (i - dampAt) : left * fall;
    buffer[start + i]! += gain * value * risen * left;
  }
}

/** When what begins with each deed is damped: with the next damping of its part after it. */
function dampings(deeds: readonly Deed[], part: Part): Float64Array {
  const times = new Float64Array(deeds.length).fill(Infinity);
  let next = Infinity;
  for (let i = deeds.length - 1; i >= 0; i--) {
    const deed = deeds[i]!;
    times[i] = next;
    if ('damps' in deed && deed.damps === part) next = deed.time;
  }
  return times;
}

/** Adds what a part begins within some of the deeds. */
function addDeeds(
  buffer: Float32Array,
  part: Part,
  deeds: readonly Deed[],
  damped: Float64Array,
  bank: SampleBank,
  sampleRate: number,
  [from, to]: readonly [number, number],
): void {
  for (let i = from; i < Math.min(to, deeds.length); i++) {
    const deed = deeds[i]!;
    if (!('event' in deed) || deed.event.part !== part) continue;
    for (const voice of voicesOf(deed.event, deed.time, bank))
      addVoice(buffer, voice, damped[i]!, sampleRate);
  }
}

/** A part on its way to the level: the bass is lifted, whichever it is. */
function lifted(part: Part, samples: Float32Array, { strings }: SampleBank, rate: number): Float32Array {
  if (part !== 'bass') return samples;
  return strings === null ? withPresence(samples, rate) : withLift(samples, rate);
}

/** The samples of one part, before its level. */
export function partSamples(
  part: Part,
  deeds: readonly Deed[],
  bank: SampleBank,
  length: number,
  sampleRate: number,
): Float32Array {
  const buffer = new Float32Array(length);
  addDeeds(buffer, part, deeds, dampings(deeds, part), bank, sampleRate, [0, deeds.length]);
  return lifted(part, buffer, bank, sampleRate);
}

/** Deeds that are done between two looks at the clock. */
const batch = 24;

/** The band as two sides. `onStep` is told how much is done, from 0 to 1, and may wait; it may throw to end the work. */
export async function mixdown(
  deeds: readonly Deed[],
  bank: SampleBank,
  { mix, isWide, hasRoom }: HeardBand,
  length: number,
  sampleRate: number,
  onStep: (done: number) => void | Promise<void> = () => undefined,
): Promise<Sides> {
  const [left, right] = [new Float32Array(length), new Float32Array(length)];
  const room = new Float32Array(hasRoom ? length : 0);
  const heard = parts.filter((part) => gainOf(part, mix[part]) > 0);
  for (const [index, part] of heard.entries()) {
    const plain = new Float32Array(length);
    const damped = dampings(deeds, part);
    for (let from = 0; from < deeds.length; from += batch) {
      addDeeds(plain, part, deeds, damped, bank, sampleRate, [from, from + batch]);
      await onStep((0.95 * (index + from / deeds.length)) / heard.length);
    }
    const samples = lifted(part, plain, bank, sampleRate);
    const gain = gainOf(part, mix[part]) * masterGain;
    const [toLeft, toRight] = sidesOf(part, isWide).map((side) => side * gain) as [number, number];
    const share = gain * roomShare(part);
    for (let t = 0; t < length; t++) {
      const value = samples[t]!;
      left[t]! += toLeft * value;
      right[t]! += toRight * value;
      if (hasRoom) room[t]! += share * value;
    }
  }
  if (hasRoom) addRoom(room, roomResponse(sampleRate), [left, right]);
  await onStep(1);
  return { left, right };
}
