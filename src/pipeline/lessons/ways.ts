// Ways into a note: every approach and device that could lead into the note that opens a bar or a chord, with its price.
//
// Pre: a request without pins at the notes in question. Post: for each device the best whole line that has it, found by
// asking for its notes one choice after another and solving anew; its price is what that line costs more than the best line
// there is. Nothing is estimated: the price of a way is that of the forced solve.
import { getOrMake } from '../../cache';
import { numberOfBar, type BarIndex, type BarNumber, type SoundingMidi } from '../../music';
import type { Chart } from '../1-chart';
import { isOrnament, type Slot, type Timeline } from '../2-timeline';
import type { Pin } from '../3-candidates';
import { infinite, minMarginals } from '../4-solver';
import { devices, devicesOf, type DeviceId, type DevicePattern, type Line, type PlayedNote } from '../5-line';
import { tryWalk } from '../pipeline';
import { walkingRange } from '../problem/range';
import { emptyCaches, makeInstance, requestWishes, type Caches } from '../problem/instance';
import type { WalkRequest } from '../types';
import type { ChordPart } from './layers';
import { partOf } from './parts';

/** Where a way leads: bar and beat, from 1. */
export interface Moment {
  readonly bar: BarNumber;
  readonly beat: number;
}

export const whyNoWay = ['no room', 'outside its chords', 'no line'] as const;
/**
 * no room: too few notes before it, or one of them opens a bar or a chord itself; outside its chords: its notes are not
 * what the device asks for there; no line: the wishes leave none that has it.
 */
export type WhyNoWay = (typeof whyNoWay)[number];

export interface WayIn {
  readonly device: DeviceId;
  /** Null where there is no such way. */
  readonly price: number | null;
  readonly why: WhyNoWay | null;
  /** The best line that has it; null where there is none. */
  readonly line: Line | null;
  /** Its notes in that line and the note they lead to, as indices. */
  readonly notes: readonly number[];
}

export interface WaysIn {
  /** Cost of the best line there is. */
  readonly optimum: number;
  readonly target: number;
  /** Under all the lines. */
  readonly chart: Chart;
  readonly timeline: Timeline;
  /** Cheapest first, then those that are not on offer, in the table's order. */
  readonly ways: readonly WayIn[];
}

export type WaysProblem = 'no line' | 'no such beat' | 'no target';

/** Every choice of one step from each set. */
const choicesOf = (shape: readonly (readonly number[])[]): readonly (readonly number[])[] =>
  shape.reduce<readonly (readonly number[])[]>(
    (ways, steps) => ways.flatMap((way) => steps.map((step) => [...way, step])),
    [[]],
  );

/** The notes before and the note itself, as pitches: the device's choices into every octave of the target. */
function pitchesOf(
  { shapes }: DevicePattern,
  targets: readonly SoundingMidi[],
): readonly (readonly SoundingMidi[])[] {
  return shapes.flatMap(choicesOf).flatMap((steps) =>
    targets.map((target) => {
      const pitches: SoundingMidi[] = [target];
      for (const step of steps.toReversed()) pitches.unshift((pitches[0]! - step) as SoundingMidi);
      return pitches;
    }),
  );
}

const stopped = (slot: Slot, midi: SoundingMidi): PlayedNote => ({
  slot,
  midi,
  placement: { finger: '1' },
  carry: null,
});

/** True when notes at these slots are the device into the last of them. */
const isDevice = (device: DeviceId, slots: readonly Slot[], pitches: readonly SoundingMidi[]): boolean =>
  devicesOf(slots.map((slot, place) => stopped(slot, pitches[place]!))).some(
    (span) => span.device === device && span.target === slots.length - 1,
  );

const pinAt = ({ bar, beat }: Slot, midi: SoundingMidi): Pin => ({ bar: numberOfBar(bar), beat, midi });

/** The slots of notes of their own that end with the one at a moment. */
function ownUpTo({ slots }: Timeline, { bar, beat }: Moment): readonly Slot[] | null {
  const own = slots.filter(({ articulation }) => !isOrnament(articulation));
  const at = own.findIndex((slot) => numberOfBar(slot.bar) === bar && Math.abs(slot.beat - beat) < 1e-6);
  return at < 0 ? null : own.slice(0, at + 1);
}

function isTarget(own: readonly Slot[]): boolean {
  const before = own.at(-2);
  return before !== undefined && (before.nextIsDownbeat || before.nextIsChange);
}

interface Question {
  readonly request: WalkRequest;
  readonly caches: Caches;
  readonly own: readonly Slot[];
  readonly targets: readonly SoundingMidi[];
  readonly optimum: number;
  readonly least: LeastCost;
}

/**
 * What no line with a note at a slot costs less than, as far as it is known beforehand: Infinity where the rules leave no
 * line with it.
 */
type LeastCost = (slot: Slot, midi: SoundingMidi) => number;

/** From the min-marginals of the lattice without the notes in question. A note that only a pin offers is not known. */
function leastCosts(request: WalkRequest, timeline: Timeline, caches: Caches): LeastCost {
  const instance = makeInstance(
    request,
    timeline,
    requestWishes(request, timeline),
    request.limits.stay,
    caches,
  );
  const prices = instance && minMarginals(instance.lattice);
  if (!prices) return () => Number.NEGATIVE_INFINITY;
  const known = new Map<number, Int32Array>();
  return ({ index }, midi) => {
    const { pitches, groupStart } = instance.candidates[index]!;
    const through = getOrMake(known, index, () => prices.at(index));
    const group = pitches.indexOf(midi);
    if (group < 0) return Number.NEGATIVE_INFINITY;
    const least = Math.min(...through.slice(groupStart[group], groupStart[group + 1]));
    return least >= infinite ? Number.POSITIVE_INFINITY : prices.optimum + least;
  };
}

function wayBy(device: DeviceId, pattern: DevicePattern, question: Question): WayIn {
  const { request, caches, own, targets, optimum, least } = question;
  const none = (why: WhyNoWay): WayIn => ({ device, price: null, why, line: null, notes: [] });
  const length = pattern.shapes[0]!.length;
  if (own.length <= length) return none('no room');
  const slots = own.slice(-length - 1);
  const opens = slots.slice(0, -2).some(({ nextIsDownbeat, nextIsChange }) => nextIsDownbeat || nextIsChange);
  if (opens && !pattern.crosses) return none('no room');
  const { lowest, highest } = walkingRange(request.instrument);
  const choices = pitchesOf(pattern, targets).filter(
    (pitches) =>
      pitches.every((midi) => midi >= lowest && midi <= highest) && isDevice(device, slots, pitches),
  );
  if (choices.length === 0) return none('outside its chords');
  // The most promising first; what cannot cost less than the best found need not be solved. What breaks a rule that is
  // never broken is tried only where nothing else is left.
  const bounds = choices
    .map((pitches) => ({
      pitches,
      bound: Math.max(...pitches.map((midi, place) => least(slots[place]!, midi))),
    }))
    .sort((a, b) => (a.bound === b.bound ? 0 : a.bound - b.bound));
  let best: Line | null = null;
  for (const { pitches, bound } of bounds) {
    if (best && bound >= best.cost) break;
    const pins = slots.map((slot, place) => pinAt(slot, pitches[place]!));
    const { line } = tryWalk({ ...request, pins: [...(request.pins ?? []), ...pins] }, caches);
    if (line && (!best || line.cost < best.cost)) best = line;
  }
  if (!best) return none('no line');
  const notes = slots.map(({ index }) => index);
  return { device, price: best.cost - optimum, why: null, line: best, notes };
}

/** The last notes of a way are another, longer one, and all notes are played alike. */
const isPartOf = (one: WayIn, other: WayIn): boolean =>
  one.notes.length < other.notes.length &&
  one.price === other.price &&
  other.notes.every((index) => {
    const [a, b] = [one.line?.notes[index], other.line?.notes[index]];
    return a !== undefined && a.midi === b?.midi && a.placement.id === b.placement.id;
  });

/** The cheapest of the ways that there are, as a sheet of them shows: one that is the end of a longer one is told by that. */
export const bestWays = ({ ways }: Pick<WaysIn, 'ways'>, most: number): readonly WayIn[] => {
  const there = ways.filter(({ price }) => price !== null);
  return there.filter((way) => !there.some((other) => isPartOf(way, other))).slice(0, most);
};

/** Bars of a way: the one its first note is in and that of the note it leads to. */
export function barsOfWay({ line, notes }: WayIn): { readonly from: BarIndex; readonly to: BarIndex } | null {
  const first = line?.notes[notes[0]!];
  const last = line?.notes[notes.at(-1)!];
  return first && last ? { from: first.slot.bar, to: last.slot.bar } : null;
}

/**
 * @param request the take is left aside: ways are those of the best line
 * @param on the part of its chord that the note they lead to is
 */
export function waysInto(
  request: WalkRequest,
  moment: Moment,
  on: ChordPart = 'root',
  caches: Caches = emptyCaches(),
): WaysIn | WaysProblem {
  const plain: WalkRequest = { ...request, kept: [], take: { ...request.take, temperature: 0 } };
  const { line, timeline, chart } = tryWalk(plain, caches);
  if (!line || !timeline) return 'no line';
  const own = ownUpTo(timeline, moment);
  const target = own?.at(-1);
  if (!own || !target) return 'no such beat';
  if (!isTarget(own)) return 'no target';
  const { lowest, highest } = walkingRange(request.instrument);
  const targets: SoundingMidi[] = [];
  for (let midi = lowest; midi <= highest; midi = (midi + 1) as SoundingMidi)
    if (partOf(target.harmony, midi) === on) targets.push(midi);
  const least = leastCosts(plain, timeline, caches);
  const question: Question = { request: plain, caches, own, targets, optimum: line.cost, least };
  const ways = devices.flatMap(({ id, family, pattern }) =>
    pattern && (family === 'approach' || family === 'device') ? [wayBy(id, pattern, question)] : [],
  );
  const rank = ({ price }: WayIn): number => price ?? Number.POSITIVE_INFINITY;
  return {
    optimum: line.cost,
    target: target.index,
    chart,
    timeline,
    ways: ways.toSorted((a, b) => (rank(a) === rank(b) ? 0 : rank(a) - rank(b))),
  };
}
