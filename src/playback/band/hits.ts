// What a drummer plays in a bar by its plan, on straight ticks.
import type { TimelineBar } from '../../pipeline/2-timeline';
import type { DrumEvent, DrumSound } from '../types';
import { groupsOf, offsetFromEnd, offsetIn, readFor, stepOf, type BeatGroup } from './places';
import type { BarPlan } from './bar-plan';
import { lanes, type Cell, type Hits } from './rows';

/** A hit before swing: the place in the bar as it would be written. */
export interface DrumHit {
  readonly part: DrumEvent['part'];
  readonly sound: DrumSound;
  /** Straight ticks from the start of the bar. */
  readonly offset: number;
  readonly velocity: number;
  /** Straight ticks from the start of the bar at which it is stopped by hand. */
  readonly dampAt?: number;
}

const parts: Readonly<Record<DrumSound, DrumEvent['part']>> = {
  ride: 'cymbal',
  'ride bell': 'cymbal',
  crash: 'cymbal',
  'closed hat': 'hi-hat',
  'pedal hat': 'hi-hat',
  'brush tap': 'drums',
  'brush sweep': 'drums',
  'brush stir': 'drums',
  'side stick': 'drums',
  snare: 'drums',
  kick: 'drums',
  'tom high': 'drums',
  'tom low': 'drums',
  'block high': 'click',
  'block low': 'click',
};
/** What is stopped by hand at the end: metal that would ring on, the brush that goes round. */
const stopped: readonly DrumSound[] = ['ride', 'ride bell', 'crash', 'brush stir'];

interface Stroke {
  readonly sound: DrumSound;
  readonly beat: number;
  readonly velocity: number;
}
const strokesOf = (hits: Hits): readonly Stroke[] =>
  hits.flatMap(([sound, ...pairs]) => pairs.map(([beat, velocity]) => ({ sound, beat, velocity })));

const hitOf = ({ sound, velocity }: Stroke, offset: number | undefined): readonly DrumHit[] =>
  offset === undefined ? [] : [{ part: parts[sound], sound, offset, velocity }];

function rowsFor({ hits, second, in2 }: Cell, { beats, index }: BeatGroup): Hits {
  const own = index % 2 === 1 ? (second ?? hits) : hits;
  // Rows for groups of two do not replace what is said of every second group.
  return beats === 2 && in2 && (index % 2 === 0 || second === undefined) ? in2 : own;
}

const cellHits = (bar: TimelineBar, cell: Cell, written: number): readonly DrumHit[] =>
  groupsOf(bar.meter).flatMap((group) =>
    readFor(strokesOf(rowsFor(cell, group)), written, group.beats).flatMap((stroke) =>
      hitOf(stroke, offsetIn(bar, group, stroke.beat)),
    ),
  );

const hitsFromEnd = (bar: TimelineBar, hits: Hits): readonly DrumHit[] =>
  strokesOf(hits).flatMap((stroke) => hitOf(stroke, offsetFromEnd(bar, stroke.beat)));

/** The last bar: hit, ring, and stopped by hand. */
function endingHits(bar: TimelineBar, { hits, choke }: NonNullable<BarPlan['ending']>): readonly DrumHit[] {
  const dampAt = bar.ticks - Math.max(1, Math.round(choke * stepOf(bar.meter)));
  const start: BeatGroup = { index: 0, beats: 0, start: 0 };
  return strokesOf(hits).flatMap((stroke) =>
    hitOf(stroke, offsetIn(bar, start, stroke.beat)).map((hit) =>
      stopped.includes(hit.sound) && hit.offset < dampAt ? { ...hit, dampAt } : hit,
    ),
  );
}

/** Hits on the first beat that a lead-in came to. */
const landed = (bar: TimelineBar, landing: Hits): readonly DrumHit[] =>
  strokesOf(landing).flatMap((stroke) => hitOf(stroke, Math.round(stroke.beat * stepOf(bar.meter))));

/** Of the same sound at the same place only the loudest. */
const oneOfEach = (hits: readonly DrumHit[]): readonly DrumHit[] =>
  hits.filter(
    (hit, i) =>
      !hits.some(
        (other, k) =>
          other.sound === hit.sound &&
          other.offset === hit.offset &&
          (other.velocity > hit.velocity || (other.velocity === hit.velocity && k < i)),
      ),
  );

/** What cymbals, hi-hat, snare and bass drum play in a bar. A pickup bar has the end of the bar's rows. */
export function barHits(bar: TimelineBar, plan: BarPlan): readonly DrumHit[] {
  if (plan.ending) return endingHits(bar, plan.ending);
  const leading = hitsFromEnd(bar, plan.leadIn?.hits ?? plan.tag?.hits ?? []);
  const from = leading.reduce((least, { offset }) => Math.min(least, offset), Infinity);
  const silent = plan.leadIn?.without ?? [];
  const time = lanes.flatMap((lane) => {
    const cell = plan.lanes[lane];
    if (!cell) return [];
    const hits = cellHits(bar, cell, plan.band.beats);
    // The lead-in takes the place of remarks, and of lanes whose hands it needs.
    return lane === 'drums' || silent.includes(lane) ? hits.filter(({ offset }) => offset < from) : hits;
  });
  return oneOfEach([...landed(bar, plan.landing), ...time, ...leading]);
}
