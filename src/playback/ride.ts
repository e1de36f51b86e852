// What a drummer does with the ride from bar to bar: a skip more or less, drawn by weight, never the same four times running.
import variationData from '../../shared/rhythm/ride.json' with { type: 'json' };
import { derivedSeed, seededRandom, ticksPerQuarter } from '../music';
import type { Feel } from '../pipeline/1-chart';
import type { TimelineBar } from '../pipeline/2-timeline';
import type { DrumHit } from './drums';

const { rows, skipVelocity, longestRun } = variationData;
const total = rows.reduce((sum, { weight }) => sum + weight, 0);

function drawn(seed: number, bar: number): number {
  let left = seededRandom(derivedSeed(seed ^ 0x71de, bar))() * total;
  return Math.max(
    0,
    rows.findIndex(({ weight }) => (left -= weight) < 0),
  );
}

/** Index of the row for each of the first bars. */
export function rideRows(seed: number, bars: number): readonly number[] {
  const chosen: number[] = [];
  for (let bar = 0; bar < bars; bar++) {
    const row = drawn(seed, bar);
    const run = chosen.slice(-longestRun);
    const isSame = run.length === longestRun && run.every((one) => one === row);
    chosen.push(isSame ? (row + 1) % rows.length : row);
  }
  return chosen;
}

/** The hits of a bar with the ride of a row; bars that are not four swinging quarters stay as they are. */
export function withRide(
  hits: readonly DrumHit[],
  { meter, ticks }: TimelineBar,
  feel: Feel,
  row: number,
): readonly DrumHit[] {
  const isWhole = meter.beats === 4 && meter.unit === 4 && ticks === 4 * ticksPerQuarter;
  if (!isWhole || (feel !== 'swing' && feel !== 'two-feel')) return hits;
  const { without, added } = rows[row]!;
  const offsetOf = (beat: number): number => (beat - 1) * ticksPerQuarter;
  const left = hits.filter(
    ({ sound, offset }) => sound !== 'ride' || !without.some((beat) => offsetOf(beat) === offset),
  );
  const more = added.map((beat): DrumHit => ({
    part: 'cymbal',
    sound: 'ride',
    offset: offsetOf(beat),
    velocity: skipVelocity[feel],
  }));
  return [...left, ...more];
}
