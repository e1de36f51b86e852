// When the bass plays: the moments of a bar by feel, and how strong each is. Decided before any pitch.
import { ticksPerQuarter, type Meter } from '../../music';
import { barTicks, beatGroups, beatTicks, feelRows, type Feel } from '../1-chart';
import type { Articulation } from './types';

/** A moment of a bar, in ticks from its (whole) beginning. */
export interface BarMoment {
  readonly offset: number;
  readonly strength: 0 | 1 | 2 | 3;
}

/** Strength of a place in the bar: 3 downbeat, 2 first beat of a later group, 1 other beats, 0 off the beat. */
export function strengthAt(offset: number, meter: Meter): BarMoment['strength'] {
  if (offset === 0) return 3;
  const beat = beatTicks(meter);
  if (offset % beat !== 0) return 0;
  let groupStart = 0;
  for (const group of beatGroups(meter)) {
    if (offset === groupStart * beat) return 2;
    groupStart += group;
  }
  return 1;
}

function everyBeat(meter: Meter): readonly number[] {
  const beat = beatTicks(meter);
  return Array.from({ length: barTicks(meter) / beat }, (_, index) => index * beat);
}

/** The first beat of every group: half notes in 4/4, once a bar in 3/4, 3+2 in 5/4. */
function everyGroup(meter: Meter): readonly number[] {
  const beat = beatTicks(meter);
  let start = 0;
  return beatGroups(meter).map((group) => {
    const offset = start * beat;
    start += group;
    return offset;
  });
}

/** 1, and of 2, 3, and of 4, straight (common practice, no source). */
const bossaInFour: readonly number[] = [0, 1.5, 2, 3.5].map((beats) => beats * ticksPerQuarter);

/** Offsets at which a feel has the bass play in a whole bar of a meter. */
export function feelOffsets(feel: Feel, meter: Meter): readonly number[] {
  const { moments } = feelRows[feel];
  if (moments === 'groups') return everyGroup(meter);
  if (moments === 'bossa' && meter.beats === 4 && meter.unit === 4) return bossaInFour;
  // Short odd meters are too quick for a note on every eighth: one to a group.
  if (meter.unit === 8 && beatTicks(meter) < ticksPerQuarter) return everyGroup(meter);
  return everyBeat(meter);
}

/** Ornaments hang on the note before them: the line is heard from one note of its own to the next. */
export const isOrnament = (articulation: Articulation = 'plain'): boolean =>
  articulation === 'ghost' || articulation === 'drop' || articulation === 'triplet';
