// The rhythm section's patterns, laid out bar by bar on straight ticks.
import patternData from '../../shared/rhythm/patterns.json' with { type: 'json' };
import { eighthGroups, ticksPerQuarter, type Meter } from '../music';
import { barTicks, beatGroups, beatsInBar, beatTicks, type Feel } from '../pipeline/1-chart';
import type { TimelineBar } from '../pipeline/2-timeline';
import { drumSounds, type ClickPlace, type DrumEvent, type DrumSound } from './types';

type DrumPart = DrumEvent['part'];

/** A hit before swing: the place in the bar as it would be written. */
export interface DrumHit {
  readonly part: DrumPart;
  readonly sound: DrumSound;
  /** Straight ticks from the start of the bar. */
  readonly offset: number;
  readonly velocity: number;
}

interface PatternRow {
  readonly part: DrumPart;
  readonly sound: DrumSound;
  readonly beat: number;
  readonly velocity: number;
  readonly turn: 'each' | 'first' | 'second';
}
/** Rows by the number of beats in the group. */
type Pattern = ReadonlyMap<number, readonly PatternRow[]>;

const drumParts: readonly DrumPart[] = ['cymbal', 'hi-hat', 'click'];
const turns: readonly PatternRow['turn'][] = ['each', 'first', 'second'];

function oneOf<Word extends string>(words: readonly Word[], value: unknown): Word {
  const word = words.find((candidate) => candidate === value);
  if (word === undefined) throw new RangeError(`patterns.json: ${String(value)} is not ${words.join(', ')}`);
  return word;
}

const readRow = ([part, sound, beat, velocity, turn]: readonly unknown[]): PatternRow => ({
  part: oneOf(drumParts, part),
  sound: oneOf(drumSounds, sound),
  beat: Number(beat),
  velocity: Number(velocity),
  turn: oneOf(turns, turn),
});

const readPattern = (groups: Readonly<Record<string, readonly (readonly unknown[])[]>>): Pattern =>
  new Map(Object.entries(groups).map(([beats, rows]) => [Number(beats), rows.map(readRow)]));

const patterns: Readonly<Record<Feel, Pattern>> = {
  swing: readPattern(patternData.swing),
  'two-feel': readPattern(patternData['two-feel']),
  waltz: readPattern(patternData.waltz),
  ballad: readPattern(patternData.ballad),
  bossa: readPattern(patternData.bossa),
  straight: readPattern(patternData.straight),
};
const eighthPattern = readPattern(patternData.eighths);
const clickPatterns: Readonly<Record<ClickPlace, Pattern>> = {
  '2 and 4': readPattern(patternData.click),
  'every beat': readPattern(patternData['click on every beat']),
};

/** The groups of beats a pattern is made for: a bar of four is one, eighth meters go by groups of eighths. */
function groupsOf(meter: Meter): readonly number[] {
  if (meter.unit === 8) return eighthGroups(meter.beats);
  return beatsInBar(meter) === 4 ? [4] : beatGroups(meter);
}

function rowsFor(pattern: Pattern, beats: number): readonly PatternRow[] {
  return pattern.get(beats) ?? (pattern.get(2) ?? []).filter((row) => row.beat < beats + 1);
}

/**
 * What cymbal, hi-hat and click play in a bar. A pickup bar has the end of the pattern's bar.
 * @param bar the bar; its chart bar's number says whether it is the first or second of a two-bar pattern
 */
export function drumHits(bar: TimelineBar, feel: Feel, click: ClickPlace = '2 and 4'): readonly DrumHit[] {
  const isEighths = bar.meter.unit === 8;
  const step = isEighths ? ticksPerQuarter / 2 : ticksPerQuarter;
  const time = isEighths ? eighthPattern : patterns[feel];
  const missing = Math.max(0, barTicks(bar.meter) - bar.ticks);
  const hits: DrumHit[] = [];
  let groupStart = 0;
  groupsOf(bar.meter).forEach((beats, group) => {
    const turn = (isEighths ? group : bar.chartBar) % 2 === 0 ? 'first' : 'second';
    for (const row of [...rowsFor(time, beats), ...rowsFor(clickPatterns[click], beats)]) {
      const offset = (groupStart + row.beat - 1) * step - missing;
      if (offset < 0 || offset >= bar.ticks || (row.turn !== 'each' && row.turn !== turn)) continue;
      hits.push({ part: row.part, sound: row.sound, offset, velocity: row.velocity });
    }
    groupStart += beats;
  });
  return hits;
}

/**
 * A count before the music: every beat in the last bar, every second one before it; a pickup is counted up to.
 * @param bar the bar the music starts with
 */
export function countInHits(
  bar: TimelineBar,
  bars: 0 | 1 | 2,
): { readonly ticks: number; readonly hits: readonly DrumHit[] } {
  if (bars === 0) return { ticks: 0, hits: [] };
  const whole = barTicks(bar.meter);
  const pickupLead = bar.ticks < whole ? whole - bar.ticks : 0;
  const ticks = bars * whole + pickupLead;
  const step = beatTicks(bar.meter);
  const slowUntil = (bars - 1) * whole;
  const hits: DrumHit[] = [];
  for (let offset = 0; offset < ticks; offset += step) {
    const beat = Math.round((offset % whole) / step);
    if (offset < slowUntil && beat % 2 !== 0) continue;
    const isFirst = beat === 0;
    const sound = isFirst ? 'block high' : 'block low';
    hits.push({ part: 'click', sound, offset, velocity: isFirst ? 0.9 : 0.7 });
  }
  return { ticks, hits };
}
