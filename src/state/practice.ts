// Ways of practising that are worked out alone: how the tempo rises, which key comes next, which parts are heard.
import {
  eighthGroups,
  straightRatio,
  tempoRange,
  type Bpm,
  type Key,
  type Meter,
  type SwingRatios,
} from '../music';
import type { Timeline } from '../pipeline';
import { parts, ratiosFor, type Mix, type Part } from '../playback';
import { keysOf } from './keys';

/** A tempo that moves from one to another, a step every so many times round. */
export interface Climb {
  readonly isOn: boolean;
  /** Quarter notes a minute at the first pass. */
  readonly from: number;
  /** Where it stays once it is there; below `from` the tempo falls. */
  readonly to: number;
  /** Quarter notes a minute, more than 0. */
  readonly by: number;
  /** Times round before each step. */
  readonly every: number;
}

export const climbRange = {
  tempo: tempoRange,
  by: { least: 1, most: 40 },
  every: { least: 1, most: 16 },
} as const;

/** The tempo of a pass, counted from 0. */
export function climbTempo({ from, to, by, every }: Climb, pass: number): number {
  const risen = by * Math.floor(pass / every);
  return to >= from ? Math.min(to, from + risen) : Math.max(to, from - risen);
}

/** Round the twelve keys of a mode no signature has more than six accidentals. */
const mostFlats = -6;
const round = 12;

/** The key a fourth up: one flat more or one sharp less; after six flats it goes on with sharps. */
export function fourthUp({ mode, fifths }: Key): Key {
  const next = fifths - 1 < mostFlats ? fifths - 1 + round : fifths - 1;
  const found = keysOf(mode).find((key) => key.fifths === next);
  if (!found) throw new RangeError(`no ${mode} key has the signature ${next}`);
  return found;
}

/** The mix as heard: with a part played alone, all others are silent. */
export function heardMix(mix: Mix, solo: Part | null): Mix {
  if (solo === null) return mix;
  const alone = parts.map((part) => [part, { ...mix[part], on: part === solo }] as const);
  return Object.fromEntries(alone) as unknown as Mix;
}

/** Whether nothing can be heard: every part is off or at no level. */
export const isSilent = (mix: Mix): boolean => parts.every((part) => !mix[part].on || mix[part].level === 0);

export const soundWishes = ['bass', 'band', 'both'] as const;
/** What a sound file holds. */
export type SoundWish = (typeof soundWishes)[number];

/** The mix for a sound file: the bass is on where it is asked for, the other parts as they are set. */
export function mixFor(what: SoundWish, mix: Mix): Mix {
  const entries = parts.map((part) => {
    const isOn = part === 'bass' ? what !== 'band' : what !== 'bass' && mix[part].on;
    return [part, { ...mix[part], on: isOn }] as const;
  });
  return Object.fromEntries(entries) as unknown as Mix;
}

/** Meters in groups of three eighths have no off-beat that swing could move. */
const canSwing = ({ beats, unit }: Meter): boolean => unit !== 8 || eighthGroups(beats).includes(2);

/**
 * The swing as it sounds: the drums' eighths are longer and shorter than those of bass and chords where the tempo decides.
 * @param music null before there is any: what a swing would be
 */
export function heardSwing(
  music: Pick<Timeline, 'feel' | 'bars'> | null,
  tempo: Bpm,
  swing: number | null,
): SwingRatios {
  const isEven = music !== null && !music.bars.some(({ meter }) => canSwing(meter));
  const wished = isEven ? straightRatio : (swing ?? 'by tempo');
  return ratiosFor(music ?? { feel: 'swing' }, wished, tempo);
}
