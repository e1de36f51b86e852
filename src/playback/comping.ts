// Chords behind the bass: where they are struck in every bar by its plan, which chord it is, how long it stays.
import type { SoundingMidi } from '../music';
import type { TimelineBar, TimelineChord } from '../pipeline/2-timeline';
import { groupsOf, missingOf, offsetFromEnd, offsetIn, readFor, stepOf } from './band/places';
import type { BarPlan } from './band/bar-plan';
import type { Strokes } from './band/rows';
import { firstAtOrAfter } from './lookup';
import { voicing } from './voicing';

/** A chord struck, on straight ticks from the start of the form. */
export interface ChordHit {
  readonly tick: number;
  readonly ticks: number;
  readonly midis: readonly SoundingMidi[];
  readonly velocity: number;
}

export interface CompWish {
  /** Bars that are played: where the music comes round, the last is followed by the first. */
  readonly from: number;
  readonly to: number;
  readonly goesRound: boolean;
  /** The highest note that the bass sounds from a straight tick to another; -Infinity where it rests. */
  readonly topOfBass: (from: number, to: number) => number;
}

interface Stroke {
  readonly offset: number;
  readonly ticks: number;
  readonly velocity: number;
}
interface Struck {
  readonly tick: number;
  readonly ticks: number;
  readonly velocity: number;
  readonly harmony: TimelineChord;
}

/** A chord that no stroke of the cell falls on is struck as it comes, so that the changes can be heard. */
const added = { beats: 1.2, share: 0.7, velocity: 0.5 } as const;
const finalVelocity = 0.62;

interface Row {
  readonly beat: number;
  readonly beats: number;
  readonly velocity: number;
}
const rowsOf = (strokes: Strokes): readonly Row[] =>
  strokes.map(([beat, beats, velocity]) => ({ beat, beats, velocity }));

function cellStrokes(bar: TimelineBar, { comping, band }: BarPlan): readonly Stroke[] {
  const step = stepOf(bar.meter);
  return groupsOf(bar.meter).flatMap((group) =>
    readFor(rowsOf(comping.strokes), band.beats, group.beats).flatMap(({ beat, beats, velocity }) => {
      const offset = offsetIn(bar, group, beat);
      return offset === undefined ? [] : [{ offset, ticks: beats * step, velocity }];
    }),
  );
}

function strokesOf(bar: TimelineBar, plan: BarPlan): readonly Stroke[] {
  const step = stepOf(bar.meter);
  if (plan.ending)
    return [{ offset: 0, ticks: bar.ticks - plan.ending.choke * step, velocity: finalVelocity }];
  const tag = rowsOf(plan.tag?.chords ?? []).flatMap(({ beat, beats, velocity }) => {
    const offset = offsetFromEnd(bar, beat);
    return offset === undefined ? [] : [{ offset, ticks: beats * step, velocity }];
  });
  const before = Math.min(...tag.map(({ offset }) => offset));
  return [...cellStrokes(bar, plan).filter(({ offset }) => offset < before), ...tag];
}

const isOffBeat = (bar: TimelineBar, offset: number): boolean =>
  (offset + missingOf(bar)) % stepOf(bar.meter) !== 0;

/** The harmony of a stroke: an off-beat right before a change plays the chord that comes. Undefined for N.C. */
function harmonyOf(
  bar: TimelineBar,
  offset: number,
  changes: ReadonlyMap<number, TimelineChord>,
  coming: TimelineChord | undefined,
): TimelineChord | undefined {
  const next = bar.tick + offset + stepOf(bar.meter) / 2;
  const change = next === bar.tick + bar.ticks && coming ? coming : changes.get(next);
  if (isOffBeat(bar, offset) && change?.chord) return change;
  const here = bar.chords.findLast(({ tick }) => tick <= bar.tick + offset);
  return here?.chord ? here : undefined;
}

/** What is struck in a bar, with the chords of the bar that would not be heard added. */
function struckIn(
  bar: TimelineBar,
  plan: BarPlan,
  changes: ReadonlyMap<number, TimelineChord>,
  coming: TimelineChord | undefined,
  heard: TimelineChord | undefined,
): readonly Struck[] {
  const struck = strokesOf(bar, plan).flatMap(({ offset, ticks, velocity }): readonly Struck[] => {
    const harmony = harmonyOf(bar, offset, changes, coming);
    return harmony ? [{ tick: bar.tick + offset, ticks, velocity, harmony }] : [];
  });
  const isHeard = (chord: TimelineChord): boolean =>
    chord === heard || struck.some(({ harmony }) => harmony === chord);
  const isAsked = (chord: TimelineChord): boolean =>
    chord.isChange || (heard === undefined && chord === bar.chords[0]);
  const missing = bar.chords
    .filter((chord) => chord.chord !== null && isAsked(chord) && !isHeard(chord))
    .map((harmony) => ({
      tick: harmony.tick,
      ticks: Math.min(added.beats * stepOf(bar.meter), harmony.ticks * added.share),
      velocity: added.velocity,
      harmony,
    }));
  return [...struck, ...missing].sort((a, b) => a.tick - b.tick);
}

/**
 * The chords of a form by bar. Each ends before the next is struck and before its harmony does; voices move as little as
 * they can, and keep off the bass. N.C. is silence.
 */
export function compHits(
  bars: readonly TimelineBar[],
  plan: readonly BarPlan[],
  { from, to, goesRound, topOfBass }: CompWish,
): readonly (readonly ChordHit[])[] {
  const chords = bars.flatMap((bar) => bar.chords);
  // Where a chord gives way to another or to silence.
  const turns = chords.filter(({ isChange, chord }) => isChange || chord === null);
  const changes = new Map(
    chords.filter(({ isChange }) => isChange).map((chord) => [chord.tick as number, chord]),
  );
  const last = bars.at(-1);
  const formEnd = last ? last.tick + last.ticks : 0;
  let before: TimelineChord | undefined;
  const struck = bars.map((bar, i) => {
    const coming = i === to && goesRound ? bars[from]?.chords[0] : undefined;
    const found = struckIn(bar, plan[i]!, changes, coming, i === from ? undefined : before);
    before = found.at(-1)?.harmony ?? bar.chords.at(-1);
    return found;
  });
  const all = struck.flat();
  const loopEnd = bars[to] ? bars[to].tick + bars[to].ticks : formEnd;
  let at = 0;
  let voices: readonly SoundingMidi[] = [];
  return struck.map((inBar) =>
    inBar.map(({ tick, ticks, velocity, harmony }) => {
      at++;
      const ends = [
        tick + ticks,
        all[at]?.tick ?? formEnd,
        turns[firstAtOrAfter(turns, Math.max(tick, harmony.tick) + 1)]?.tick ?? formEnd,
      ];
      const isBeforeLoopEnd = tick < loopEnd && goesRound;
      const end = Math.round(Math.min(...ends, isBeforeLoopEnd ? loopEnd : formEnd));
      voices = voicing(harmony.chord!, voices, topOfBass(tick, end));
      return { tick, ticks: Math.max(1, end - tick), midis: voices, velocity };
    }),
  );
}
