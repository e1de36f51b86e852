// Where a bar is felt to divide, so that written note values show its beats.
import type { Meter } from '../types';
import { ticksPerQuarter } from '../units';

/** The felt structure of one bar; ticks count from the start of the bar. */
export interface BarGrid {
  /** Length of the bar in ticks. */
  readonly ticks: number;
  /** Starts of the groups a note may not blur, the start and the end of the bar among them. */
  readonly edges: ReadonlySet<number>;
  /** How strong the place is: high for group starts, 0 for an eighth off the beat, falling with the subdivision. */
  level(tick: number): number;
  /** Places of level 0 and more lie on multiples of it. */
  readonly step: number;
  /** The beam group that the place belongs to. */
  beamGroup(tick: number): number;
  /** Ticks of the unit that may be divided in three. */
  readonly tupletUnit: number;
  /** Start of the first such unit; below 0 when a pickup lacks part of it. */
  readonly firstUnit: number;
  /** The longest undotted rest that may begin there, unless it fills a group. */
  longestRest(tick: number): number;
}

const wholeNote = 4 * ticksPerQuarter;
const edgeLevel = 4;
const eighth = ticksPerQuarter / 2;
/** The shortest plain value written, a 64th. */
export const shortestValue = ticksPerQuarter / 16;

// Binary subdivisions from the whole note (level 3) to the 64th (level -3).
function binaryLevel(tick: number): number {
  for (let level = 3, size = wholeNote; size >= shortestValue; level -= 1, size /= 2) {
    if (tick % size === 0) return level;
  }
  return -9;
}

/** Length of a whole bar in ticks. */
export const barTicks = (meter: Meter): number => (meter.beats * wholeNote) / meter.unit;

/** Numbers of units in each group of a bar that is not simply halved; common practice, no source. */
function groupSizes({ beats, unit }: Meter): readonly number[] {
  if (unit === 8 && beats % 3 === 0) return Array.from({ length: beats / 3 }, () => 3);
  if (unit === 8 && beats === 8) return [3, 3, 2];
  if (beats === 5) return [3, 2];
  if (beats === 7) return [4, 3];
  if (unit === 4 && beats % 3 === 0 && beats > 3) return Array.from({ length: beats / 3 }, () => 3);
  return [beats];
}

/**
 * The grid of a bar.
 * @param ticks length of the bar, shorter than the meter in a pickup
 * @param isPickup true when a short bar lacks its beginning rather than its end
 */
export function barGrid(meter: Meter, ticks: number, isPickup: boolean): BarGrid {
  const unitTicks = wholeNote / meter.unit;
  const missing = isPickup ? Math.max(0, barTicks(meter) - ticks) : 0;
  const starts: number[] = [];
  const sizes = groupSizes(meter);
  let at = 0;
  for (const size of sizes) {
    starts.push(at - missing);
    at += size * unitTicks;
  }
  const groupAt = (tick: number): number => starts.findLastIndex((start) => start <= tick);
  const groupStart = (tick: number): number => starts[groupAt(tick)] ?? 0;
  const tupletUnit = Math.min(unitTicks, ticksPerQuarter);
  const beamUnit = meter.unit === 8 ? null : ticksPerQuarter;
  return {
    ticks,
    edges: new Set([0, ticks, ...starts]),
    level: (tick) => (starts.includes(tick) || tick === 0 ? edgeLevel : binaryLevel(tick - groupStart(tick))),
    step: starts.every((start) => start % eighth === 0) ? eighth : shortestValue,
    beamGroup: (tick) => (beamUnit === null ? groupStart(tick) : Math.floor((tick + missing) / beamUnit)),
    tupletUnit,
    firstUnit: 0 - (missing % tupletUnit),
    // Of three beats no two are one half.
    longestRest: (tick) => (meter.unit !== 8 && (sizes[groupAt(tick)] ?? 1) % 2 === 1 ? unitTicks : ticks),
  };
}
