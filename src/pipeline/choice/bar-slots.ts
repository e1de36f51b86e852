// The bars of a line by the slots in them, and which of them a bar must not repeat.
import { pitchClass, type BarIndex } from '../../music';
import type { Timeline } from '../2-timeline';
import type { SlotCandidates } from '../3-candidates';
import type { Path } from '../4-solver';

/** Slots of one bar: first and last index. */
export interface BarSlots {
  readonly bar: BarIndex;
  readonly first: number;
  readonly last: number;
  readonly chorus: number;
  readonly chartBar: number;
}

/** The bars of the played slots in order. */
export function barSlotsOf({ slots, bars }: Timeline): readonly BarSlots[] {
  const found: BarSlots[] = [];
  slots.forEach(({ bar }, index) => {
    const before = found.at(-1);
    if (before?.bar === bar) found[found.length - 1] = { ...before, last: index };
    else {
      const { chorus = -1, chartBar = -1 } = bars[bar] ?? {};
      found.push({ bar, first: index, last: index, chorus, chartBar });
    }
  });
  return found;
}

/** The pitches of a bar, in order. */
export function figureOf(
  candidates: readonly SlotCandidates[],
  path: Path,
  { first, last }: BarSlots,
): readonly number[] {
  const pitches: number[] = [];
  for (let t = first; t <= last; t++) pitches.push(candidates[t]!.placements[path[t]!]!.midi);
  return pitches;
}

/** The same notes, in any octave. */
export function isSameFigure(a: readonly number[], b: readonly number[]): boolean {
  if (a.length !== b.length || a.length === 0) return false;
  const by = a[0]! - b[0]!;
  return by % 12 === 0 && a.every((pitch, k) => b[k] === pitch - by);
}

/**
 * True for a bar that has no figure of its own to vary: one note, a pedal, root and fifth by its feel, or nothing left to
 * choose because all of it is pinned or kept.
 */
export function isConfined(candidates: readonly SlotCandidates[], { first, last }: BarSlots): boolean {
  if (first === last) return true;
  const own = candidates.slice(first, last + 1);
  const isBound = ({ slot, pitches }: SlotCandidates): boolean =>
    slot.confinedTo !== undefined ||
    slot.isPedal === true ||
    new Set(pitches.map((midi) => pitchClass(midi))).size <= 1;
  return own.every(isBound);
}

/** Bars before that a bar does not repeat. */
const barsBefore = 4;

/** By bar: the bars near it, and the same bar of the choruses beside. */
export function barsNear(bars: readonly BarSlots[]): (index: number) => readonly number[] {
  const byPlace = new Map<string, number[]>();
  const placeOf = (chorus: number, chartBar: number): string => `${chorus}/${chartBar}`;
  bars.forEach(({ chorus, chartBar }, index) => {
    const place = placeOf(chorus, chartBar);
    byPlace.set(place, [...(byPlace.get(place) ?? []), index]);
  });
  return (index) => {
    const { chorus, chartBar } = bars[index]!;
    const found = [chorus - 1, chorus + 1].flatMap((one) => byPlace.get(placeOf(one, chartBar)) ?? []);
    const near = Array.from({ length: 2 * barsBefore + 1 }, (_, k) => index - barsBefore + k);
    return [...near.filter((at) => at !== index), ...found].filter((at) => at in bars);
  };
}
