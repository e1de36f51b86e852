// Swing: where the second of two eighths falls. The one place that moves it, for playing and for MIDI files alike.
import swingData from '../../shared/rhythm/swing.json' with { type: 'json' };
import type { Meter } from './types';
import { ticksPerQuarter, type Bpm, type Ticks } from './units';

/** The part of a bar that swing needs; a bar shorter than its meter is a pickup and counts back from its end. */
export interface SwingBar {
  readonly tick: Ticks;
  readonly ticks: Ticks;
  readonly meter: Meter;
}

/** Length of the first eighth of a beat over the second at this tempo. */
export interface SwingRatios {
  readonly bass: number;
  /** Larger at slow tempi: the cymbal's short note hardly changes its length. */
  readonly cymbal: number;
}

/** Equal eighths. */
export const straightRatio = 1;
/** How far apart bass and cymbal may be, in seconds, where both play the same moment; source in shared/rhythm/swing.json. */
export const togetherSeconds = swingData.together.seconds;

const bassMedians = swingData.bass.rows.map((row) => ({ tempo: Number(row[1]), ratio: Number(row[2]) }));

/** The measured medians at the centres of their tempo bands, straight lines between them, level beyond the ends. */
function bassRatio(tempo: number): number {
  const above = bassMedians.findIndex((median) => median.tempo >= tempo);
  const to = bassMedians.at(above)!;
  const from = bassMedians[above - 1] ?? to;
  if (above <= 0) return to.ratio;
  return from.ratio + ((to.ratio - from.ratio) * (tempo - from.tempo)) / (to.tempo - from.tempo);
}

function cymbalRatio(tempo: number): number {
  const { largestRatio, shortNoteSeconds } = swingData.cymbal;
  const ratio = (60 / tempo - shortNoteSeconds) / shortNoteSeconds;
  return Math.min(largestRatio, Math.max(straightRatio, ratio));
}

/** What players do at a tempo; sources in shared/rhythm/swing.json. */
export const swingAt = (tempo: Bpm): SwingRatios => ({
  bass: bassRatio(tempo),
  cymbal: cymbalRatio(tempo),
});

/** Where the bar's beats are counted from: its start, or for a pickup the start the whole bar would have had. */
function beatOrigin({ tick, ticks, meter }: SwingBar): number {
  const whole = (meter.beats * 4 * ticksPerQuarter) / meter.unit;
  return ticks < whole ? tick + ticks - whole : tick;
}

const half = ticksPerQuarter / 2;

/** How eighths group in meters counted in eighths: 6/8 in threes, 5/8 is 3+2, 7/8 is 2+2+3 (common practice, no source). */
export function eighthGroups(eighths: number): readonly number[] {
  if (eighths % 3 === 0) return Array<number>(eighths / 3).fill(3);
  if (eighths === 5) return [3, 2];
  const pairs = Array<number>(Math.floor(eighths / 2)).fill(2);
  return eighths % 2 === 0 ? pairs : [...pairs.slice(1), 3];
}

/** Halfway between two beats. In eighth meters that is the second of a group of two; groups of three are even. */
function isOffBeat(fromOrigin: number, { beats, unit }: Meter): boolean {
  if (unit !== 8) return fromOrigin % ticksPerQuarter === half;
  let start = 0;
  return eighthGroups(beats).some((eighths) => {
    const isSecond = eighths === 2 && fromOrigin === start + half;
    start += eighths * half;
    return isSecond;
  });
}

const inQuarters: Meter = { beats: 4, unit: 4 };

/**
 * The swung place of a straight one. Only an eighth halfway between two beats moves; beats, triplets and sixteenths stay,
 * so a note written where swing would put it is not swung again. Without a bar, beats are counted from 0 in quarters.
 */
export function swungTick(tick: Ticks, ratio: number, bar?: SwingBar): Ticks {
  const fromOrigin = bar ? tick - beatOrigin(bar) : tick;
  if (!isOffBeat(fromOrigin, bar?.meter ?? inQuarters)) return tick;
  return (tick - half + Math.round((ticksPerQuarter * ratio) / (ratio + 1))) as Ticks;
}

/** Index of the bar a tick falls in; the last bar for a tick beyond it. `bars` in order and not empty. */
export function barIndexAt(bars: readonly { readonly tick: Ticks }[], tick: number): number {
  let low = 0;
  let high = bars.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (bars[middle]!.tick <= tick) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Swing for a whole form: starts and ends of notes go through it alike, each counted within the bar it falls in. */
export function swingOver(bars: readonly SwingBar[], ratio: number): (tick: Ticks) => Ticks {
  return (tick) => (bars.length === 0 ? tick : swungTick(tick, ratio, bars[barIndexAt(bars, tick)]));
}
