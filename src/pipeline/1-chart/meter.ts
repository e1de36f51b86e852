// Meters: how long a bar is, what its beats are, how they group, and how chords share them.
import { barTicks, ticksPerQuarter, type Meter } from '../../music';

export { barTicks };

const mostBeats = 16;

/** Reads "4/4", "12/8", or the signs C and C| as words ("common", "cut"); undefined when it is no meter we know. */
export function parseMeter(text: string): Meter | undefined {
  const word = text.trim().toLowerCase();
  if (word === 'c' || word === 'common') return { beats: 4, unit: 4 };
  if (word === 'c|' || word === 'cut') return { beats: 2, unit: 2 };
  const match = /^(\d{1,2})\s*\/\s*([248])$/.exec(word);
  if (match === null) return undefined;
  const beats = Number(match[1]);
  if (beats < 1 || beats > mostBeats) return undefined;
  return { beats, unit: Number(match[2]) as Meter['unit'] };
}

export const meterText = (meter: Meter): string => `${meter.beats}/${meter.unit}`;
export const isSameMeter = (a: Meter, b: Meter): boolean => a.beats === b.beats && a.unit === b.unit;

/** 6/8, 9/8 and 12/8 are felt in dotted quarters. */
export const isCompound = (meter: Meter): boolean =>
  meter.unit === 8 && meter.beats % 3 === 0 && meter.beats > 3;

/**
 * Length in ticks of what counts as one beat: a quarter, also in 2/2 and 3/2 where charts still carry four slashes to a
 * whole note; a dotted quarter in compound meters; an eighth in 3/8, 5/8 and 7/8.
 */
export function beatTicks(meter: Meter): number {
  if (isCompound(meter)) return (ticksPerQuarter * 3) / 2;
  return meter.unit === 8 ? ticksPerQuarter / 2 : ticksPerQuarter;
}

/** Beats in a whole bar, see {@link beatTicks}. */
export const beatsInBar = (meter: Meter): number => barTicks(meter) / beatTicks(meter);

/** What a dotted place in the bar lasts: an eighth note, or half a beat where the beat is the eighth itself. */
export const shortTicks = (meter: Meter): number => (meter.unit === 8 && !isCompound(meter) ? 120 : 240);

/** How the beats fall into groups whose first beats are strong: 5/4 is 3+2, 7/4 is 2+2+3 (common practice, no source). */
export function beatGroups(meter: Meter): readonly number[] {
  const beats = beatsInBar(meter);
  if (beats <= 3) return [beats];
  if (beats === 5) return [3, 2];
  if (beats % 3 === 0) return Array.from({ length: beats / 3 }, () => 3);
  const pairs = Array.from({ length: Math.floor(beats / 2) }, () => 2);
  return beats % 2 === 0 ? pairs : [...pairs.slice(1), 3];
}

/**
 * Lengths in whole units when `count` chords share `units`: equal where they can be, else the half (the longer one first)
 * is shared before its parts, so that chords change on strong beats: three in four are 2 1 1, two in five 3 2.
 */
export function shareEvenly(units: number, count: number): readonly number[] {
  if (count <= 1) return [units];
  if (units % count === 0) return Array.from({ length: count }, () => units / count);
  const left = Math.ceil(units / 2);
  const right = units - left;
  const inLeft = Math.ceil((count * left) / units - 0.5);
  const kept = Math.min(Math.max(inLeft, 1, count - right), left, count - 1);
  return [...shareEvenly(left, kept), ...shareEvenly(right, count - kept)];
}
