// Rhythm that was there before: bars whose moments are kept as they were heard, and moments that pins ask for.
//
// Pre: the stops of the whole in order. Post: still in order and without overlap. A kept bar has exactly its own moments;
// every pinned place that lies in a sounding bar has a stop.
import type { BarIndex } from '../../music';
import { barTicks, beatTicks } from '../1-chart';
import { isOrnament } from './rhythm';
import { beatAt, strengthIn, type Stop } from './rhythm-stops';
import type { Articulation, TimelineBar, TimelineChord } from './types';

/** A beat of a bar that something is asked of. */
export interface KeptPlace {
  readonly bar: BarIndex;
  readonly beat: number;
}

/** When a note of a kept bar sounds, in ticks from the beginning of its bar. */
export interface KeptMoment {
  readonly at: number;
  readonly ticks: number;
  /** Left out for a plain note. */
  readonly articulation?: Articulation;
}

/** The moments of kept bars, by the index of the bar. */
export type KeptRhythm = ReadonlyMap<BarIndex, readonly KeptMoment[]>;

const endOf = ({ at, ticks }: KeptMoment): number => at + ticks;

/** How far the last note of a bar sounds into the next one. */
const overhang = (moments: readonly KeptMoment[] | undefined, bar: TimelineBar): number => {
  const last = moments?.at(-1);
  return last ? Math.max(0, endOf(last) - bar.ticks) : 0;
};

const harmonyAt = (bar: TimelineBar, tick: number): TimelineChord | undefined =>
  bar.chords.findLast((one) => one.tick <= tick);

/** True when a bar can have these moments: in order, over chords, and only an anticipation goes on into the next bar. */
function isPlayable(
  moments: readonly KeptMoment[],
  bars: readonly TimelineBar[],
  index: number,
  begunBefore: number,
): boolean {
  const bar = bars[index]!;
  let at = begunBefore;
  for (const [place, moment] of moments.entries()) {
    if (moment.at < at || moment.ticks <= 0 || moment.at >= bar.ticks) return false;
    at = endOf(moment);
    const isEarly = moment.articulation === 'anticipation';
    if (isEarly !== at > bar.ticks || (isEarly && place < moments.length - 1)) return false;
    const over = isEarly ? bars[index + 1] : bar;
    if (!over || !harmonyAt(over, isEarly ? over.tick : bar.tick + moment.at)?.chord) return false;
  }
  const opens = bar.chords[0]?.chord !== null;
  const first = moments[0]?.at ?? bar.ticks;
  return !opens || first === begunBefore;
}

/** The kept bars that can be played as they were, one after another. */
export function playableRhythm(rhythm: KeptRhythm, bars: readonly TimelineBar[]): KeptRhythm {
  const playable = new Map<BarIndex, readonly KeptMoment[]>();
  for (const { index } of bars) {
    const moments = rhythm.get(index);
    const before = bars[index - 1];
    const begun = before ? overhang(playable.get(before.index), before) : 0;
    if (moments && isPlayable(moments, bars, index, begun)) playable.set(index, moments);
  }
  return playable;
}

/** True when a note of the bar before sounds into this one. */
export function isBegunBefore(rhythm: KeptRhythm, bars: readonly TimelineBar[], index: BarIndex): boolean {
  const before = bars[index - 1];
  return before !== undefined && overhang(rhythm.get(before.index), before) > 0;
}

function keptStop(bars: readonly TimelineBar[], index: BarIndex, moment: KeptMoment): Stop {
  const bar = bars[index]!;
  const { articulation = 'plain' } = moment;
  const tick = bar.tick + moment.at;
  const isEarly = articulation === 'anticipation';
  const over = isEarly ? bars[index + 1]! : bar;
  const heard = isEarly ? over.tick : tick;
  const harmony = harmonyAt(over, heard)!;
  return {
    bar: index,
    beat: beatAt(bar, tick),
    tick,
    end: tick + moment.ticks,
    harmony,
    isChange: harmony.isChange && harmony.tick === heard && !isOrnament(articulation),
    strength: articulation === 'plain' ? strengthIn(bar, tick) : 0,
    articulation,
  };
}

/** What is left of a stop after a note before it has sounded until a tick. */
function after(stop: Stop, bar: TimelineBar, until: number): readonly Stop[] {
  if (stop.tick >= until) return [stop];
  if (stop.end <= until) return [];
  return [
    {
      ...stop,
      tick: until,
      beat: beatAt(bar, until),
      isChange: false,
      strength: strengthIn(bar, until),
    },
  ];
}

/** The stops with those of kept bars as they were. `rhythm` must be playable. */
export function withKeptRhythm(
  stops: readonly Stop[],
  bars: readonly TimelineBar[],
  rhythm: KeptRhythm,
): readonly Stop[] {
  if (rhythm.size === 0) return stops;
  const byBar = new Map<BarIndex, Stop[]>();
  for (const stop of stops) byBar.set(stop.bar, [...(byBar.get(stop.bar) ?? []), stop]);
  let until = 0;
  return bars.flatMap((bar) => {
    const kept = rhythm.get(bar.index);
    const made = kept
      ? kept.map((moment) => keptStop(bars, bar.index, moment))
      : (byBar.get(bar.index) ?? []).flatMap((stop) => after(stop, bar, until));
    until = made.at(-1)?.end ?? until;
    return made;
  });
}

/** The stops with one at every pinned place: a longer note is cut where the pin wants a note of its own. */
export function withPinnedMoments(
  stops: readonly Stop[],
  bars: readonly TimelineBar[],
  places: readonly KeptPlace[],
): readonly Stop[] {
  const wanted = places.flatMap(({ bar: index, beat }) => {
    const bar = bars[index];
    if (!bar) return [];
    const missing = barTicks(bar.meter) - bar.ticks;
    return [bar.tick - missing + Math.round((beat - 1) * beatTicks(bar.meter))];
  });
  return wanted.reduce<readonly Stop[]>((all, tick) => {
    const at = all.findIndex((stop) => stop.tick < tick && tick < stop.end);
    const stop = all[at];
    if (!stop) return all;
    const bar = bars.find((one) => tick >= one.tick && tick < one.tick + one.ticks)!;
    const rest: Stop = {
      ...stop,
      bar: bar.index,
      beat: beatAt(bar, tick),
      tick,
      isChange: false,
      strength: strengthIn(bar, tick),
      articulation: 'plain',
    };
    return [...all.slice(0, at), { ...stop, end: tick }, rest, ...all.slice(at + 1)];
  }, stops);
}
