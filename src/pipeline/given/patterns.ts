// Scales, arpeggios and patterns in any key, as given lines.
import data from '../../../shared/hand/patterns.json' with { type: 'json' };
import {
  makeKey,
  pitchClassOf,
  scaleIntervals,
  scaleNames,
  semitonesOf,
  soundingMidi,
  ticks,
  ticksPerQuarter,
  transpose,
  type Key,
  type NoteName,
  type ScaleName,
  type SoundingMidi,
} from '../../music';
import { highestPitch, lowestPitch, type Instrument } from '../../instrument';
import type { GivenNote } from './types';

export const patternFigures = ['scale', 'triad', 'seventh chord', 'thirds', 'fours', '1-2-3-5'] as const;
export type PatternFigure = (typeof patternFigures)[number];
export const patternReaches = ['one octave', 'two octaves', 'whole neck'] as const;
export type PatternReach = (typeof patternReaches)[number];
export const patternDirections = ['up', 'down', 'up and down'] as const;
export type PatternDirection = (typeof patternDirections)[number];

/** The scales that are offered, with their names for players. */
export const patternScales: readonly { readonly id: ScaleName; readonly words: string }[] =
  data.scales.flatMap((id) => {
    const scale = scaleNames.find((name) => name === id);
    return scale ? [{ id: scale, words: wordsOf(scale) }] : [];
  });

export interface PatternWish {
  readonly tonic: NoteName;
  readonly scale: ScaleName;
  readonly figure: PatternFigure;
  readonly reach: PatternReach;
  readonly direction: PatternDirection;
  /** Octaves above the lowest tonic of the bass at which one or two octaves begin; 0 when left out. */
  readonly octaveUp?: number;
  /** Quarter notes a note; 1 when left out. */
  readonly beats?: number;
}

export interface Pattern {
  readonly notes: readonly GivenNote[];
  readonly key: Key;
  /** "B♭ major, one octave, up and down". */
  readonly title: string;
}

/** A pattern, or in words why there is none. */
export type PatternResult =
  | { readonly pattern: Pattern; readonly problem: null }
  | { readonly pattern: null; readonly problem: string };

interface Sound {
  readonly midi: SoundingMidi;
  readonly name: NoteName;
}

/** Semitones above the highest open string that a pattern over the whole neck goes up to: the octave. */
const neckTop = 12;
const octave = 12;
const mostBeats = 8;

const figureRow = (figure: PatternFigure): (typeof data.figures)[number] =>
  data.figures.find((row) => row.id === figure)!;

/** The kept tones of the scale, from a lowest pitch to a highest, rising. */
function tonesOf({ tonic, scale, figure }: PatternWish, lowest: number, highest: number): readonly Sound[] {
  const intervals = scaleIntervals(scale);
  const kept = figureRow(figure).degrees?.map((degree) => intervals[degree]!) ?? intervals;
  const tones = kept.map((interval) => ({
    above: semitonesOf(interval) % octave,
    name: transpose(tonic, interval),
  }));
  const first = pitchClassOf(tonic);
  const result: Sound[] = [];
  for (let midi = lowest; midi <= highest; midi++) {
    const tone = tones.find(({ above }) => (midi - first - above) % octave === 0);
    if (tone) result.push({ midi: soundingMidi(midi), name: tone.name });
  }
  return result;
}

/** The cell from every tone that has room for it, and the top tone to end on. */
function played(tones: readonly Sound[], cell: readonly number[]): readonly Sound[] {
  const widest = Math.max(...cell);
  const result: Sound[] = [];
  for (let from = 0; from + widest < tones.length; from++) {
    for (const step of cell) result.push(tones[from + step]!);
  }
  const top = tones.at(-1)!;
  return result.at(-1) === top ? result : [...result, top];
}

function directed(rising: readonly Sound[], direction: PatternDirection): readonly Sound[] {
  if (direction === 'up') return rising;
  const falling = [...rising].reverse();
  return direction === 'down' ? falling : [...rising, ...falling.slice(1)];
}

/** "major" for the ionian scale. */
function wordsOf(scale: ScaleName): string {
  const words: Readonly<Record<string, string>> = data.scaleWords;
  return words[scale] ?? scale;
}

const readable = (name: NoteName): string => name.replaceAll('b', '♭').replaceAll('#', '♯');

/** "B♭ major, in thirds, two octaves, up". */
function titleOf({ tonic, scale, figure, reach, direction }: PatternWish): string {
  const parts = [`${readable(tonic)} ${wordsOf(scale)}`];
  if (figure !== 'scale') parts.push(figureRow(figure).words);
  return [...parts, reach, direction].join(', ');
}

/** Lowest and highest pitch of a pattern on a bass. */
function boundsOf(wish: PatternWish, instrument: Instrument): readonly [lowest: number, highest: number] {
  const lowest = lowestPitch(instrument);
  if (wish.reach === 'whole neck') {
    const top = Math.max(...instrument.strings.map((string) => string.open)) + neckTop;
    return [lowest, Math.min(top, highestPitch(instrument))];
  }
  const tonic = lowest + ((pitchClassOf(wish.tonic) - lowest + 120) % octave);
  const start = tonic + octave * (wish.octaveUp ?? 0);
  return [start, start + octave * (wish.reach === 'one octave' ? 1 : 2)];
}

/** A scale, arpeggio or pattern as notes to be fingered. */
export function makePattern(wish: PatternWish, instrument: Instrument): PatternResult {
  const { tonic, scale, figure, direction, beats = 1, octaveUp = 0 } = wish;
  const refused = (problem: string): PatternResult => ({ pattern: null, problem });
  const intervals = scaleIntervals(scale);
  const row = figureRow(figure);
  if (row.degrees && intervals.length !== 7)
    return refused(
      `The ${scale} scale has ${intervals.length} notes: it has no ${figure} on every other step.`,
    );
  const length = beats * ticksPerQuarter;
  if (!(beats > 0 && beats <= mostBeats && Number.isInteger(length)))
    return refused(`A note must last from a fraction of a beat to ${mostBeats} beats, not ${beats}.`);
  if (!Number.isInteger(octaveUp) || octaveUp < 0)
    return refused(`A pattern begins a whole number of octaves up, not ${octaveUp}.`);
  const [lowest, highest] = boundsOf(wish, instrument);
  if (highest > highestPitch(instrument))
    return refused(
      'The pattern goes above the highest stop of this bass: begin lower or take fewer octaves.',
    );
  const sounds = directed(played(tonesOf(wish, lowest, highest), row.cell), direction);
  const notes = sounds.map(({ midi, name }, index): GivenNote => ({
    midi,
    name,
    tick: ticks(index * length),
    ticks: ticks(length),
  }));
  const isMinor = intervals.some((interval) => interval === '3m');
  const key = makeKey(tonic, isMinor ? 'minor' : 'major');
  return { pattern: { notes, key, title: titleOf(wish) }, problem: null };
}
