// The sounds that a line needs of the computed bass: which ones, how long, and in which order.
import { cutToOnset } from '../onset';
import { deadNote } from './dead';
import { toneOf, type ToneKind } from './figures';
import { pluckedNote } from './note';
import { slideNoise, slideSeconds } from './slide';
import type { SoundingString, StringStroke, Touch } from './stroke';
import type { BassEvent, Schedule } from '../types';

/** A sound to be computed. Plain values only: it is sent to a worker. */
export interface StringWish {
  readonly what: 'note' | 'dead' | 'slide';
  readonly stroke: StringStroke;
  /** Of a slide: the stop it comes from. */
  readonly from: number;
  /** Of a slide: the finger stays on the string. */
  readonly isOnString: boolean;
  readonly seconds: number;
}

/** The bass whose strings sound. */
export interface StringBass {
  readonly kind: ToneKind;
  readonly lengthMm: number;
}

/** Notes are computed at these loudnesses; what lies between is made by the level. */
const steps = [0.55, 0.7, 0.85] as const;
/** Ringing is computed in stretches of so many seconds, so that lines share sounds. */
const stretch = 0.25;
const longest = 4;
const bytesPerSample = 4;
/** How many times its release a damped sound goes on (see Voices). */
const faded = 2;

const stepOf = (loudness: number): number =>
  steps.reduce((best, step) => (Math.abs(step - loudness) < Math.abs(best - loudness) ? step : best));

/** What tells one sound from another; of two with the same name the longer serves for both. */
export const nameOf = ({ what, stroke, from, isOnString }: StringWish): string => {
  const { kind, open, stop, lengthMm, loudness, seed, touch } = stroke;
  return [what, kind, lengthMm, open, stop, loudness, seed, touch, from, isOnString].join(' ');
};

export const bytesOf = ({ seconds }: StringWish, sampleRate: number): number =>
  Math.ceil(seconds * sampleRate) * bytesPerSample;

/** Mono samples of a wish; the same everywhere. */
export function computeWish(wish: StringWish, sampleRate: number): Float32Array {
  const { what, stroke, from, isOnString, seconds } = wish;
  if (what === 'note') return cutToOnset(pluckedNote(stroke, seconds, sampleRate), sampleRate);
  if (what === 'dead') return cutToOnset(deadNote(stroke, sampleRate), sampleRate);
  return slideNoise({ ...stroke, from, to: stroke.stop, isOnString }, seconds, sampleRate);
}

function strokeOf(event: BassEvent, { kind, lengthMm }: StringBass, touch: Touch): StringStroke {
  const { midi, stop, velocity, take } = event;
  return { kind, lengthMm, open: midi - stop, stop, loudness: stepOf(velocity), seed: take, touch };
}

/** The sound of a note that rings for so many seconds. */
export function noteWish(event: BassEvent, bass: StringBass, ringing: number): StringWish {
  const { touch } = event;
  const plain = { from: 0, isOnString: false };
  if (touch === 'dead')
    return { what: 'dead', stroke: strokeOf(event, bass, 'plucked'), seconds: 0.35, ...plain };
  const whole = Math.ceil((ringing + faded * event.release) / stretch) * stretch;
  const seconds = Math.min(longest, whole);
  return { what: 'note', stroke: strokeOf(event, bass, touch), seconds, ...plain };
}

/** The sound of the shift before a note; null where none is heard. */
export function slideWish(event: BassEvent, bass: StringBass): StringWish | null {
  const { shift } = event;
  if (!shift) return null;
  const string: SoundingString = { ...bass, open: event.midi - event.stop };
  return {
    what: 'slide',
    stroke: { ...string, stop: event.stop, loudness: 0, seed: event.take, touch: 'plucked' },
    from: shift.from,
    isOnString: shift.isOnString,
    seconds: slideSeconds(shift.from, event.stop, shift.seconds),
  };
}

/** How much louder or softer than it was computed a note is played, as a factor. */
export function gainOfNote({ velocity }: BassEvent, { kind }: StringBass): number {
  return 10 ** ((toneOf(kind).level.perUnit * (velocity - stepOf(velocity))) / 20);
}

/**
 * What a schedule needs, what sounds first at the front, each once and as long as the longest use of it.
 * @param secondsPerTick of the tempo
 */
export function stringWishes(
  schedule: Pick<Schedule, 'events' | 'start' | 'end' | 'loopStart'>,
  bass: StringBass,
  secondsPerTick: number,
): readonly StringWish[] {
  const { events, start, end } = schedule;
  const played = events.filter((event): event is BassEvent => event.part === 'bass' && event.tick < end);
  const first = played.filter(({ tick }) => tick >= start);
  const later = played.filter(({ tick }) => tick < start);
  const wishes = new Map<string, StringWish>();
  const add = (wish: StringWish): void => {
    const known = wishes.get(nameOf(wish));
    wishes.set(nameOf(wish), known && known.seconds >= wish.seconds ? known : wish);
  };
  for (const event of [...first, ...later]) {
    add(noteWish(event, bass, (event.damp - event.tick) * secondsPerTick));
    const slide = slideWish(event, bass);
    if (slide) add(slide);
  }
  return [...wishes.values()];
}

/** As many of the first wishes as fit. */
export function thoseThatFit(
  wishes: readonly StringWish[],
  sampleRate: number,
  limit: number,
): readonly StringWish[] {
  let bytes = 0;
  return wishes.filter((wish) => (bytes += bytesOf(wish, sampleRate)) <= limit);
}
