// Where the rows of a band fall in a bar: its groups of beats, and beats that count back from its end.
import { eighthGroups, ticksPerQuarter, type Meter } from '../../music';
import { barTicks, beatGroups, beatsInBar } from '../../pipeline/1-chart';
import type { TimelineBar } from '../../pipeline/2-timeline';

/** Some beats that rows are written for. */
export interface BeatGroup {
  /** Its place in the bar, from 0. */
  readonly index: number;
  readonly beats: number;
  /** Beats of the bar before it. */
  readonly start: number;
}

/** Ticks of a beat as rows count it: an eighth where the meter does. */
export const stepOf = ({ unit }: Meter): number => (unit === 8 ? ticksPerQuarter / 2 : ticksPerQuarter);

/** The groups of beats that rows are made for: a bar of four is one, eighth meters go by groups of eighths. */
export function groupsOf(meter: Meter): readonly BeatGroup[] {
  const sizes =
    meter.unit === 8 ? eighthGroups(meter.beats) : beatsInBar(meter) === 4 ? [4] : beatGroups(meter);
  let start = 0;
  return sizes.map((beats, index) => {
    const group = { index, beats, start };
    start += beats;
    return group;
  });
}

/** Ticks that a bar lacks of its meter: a pickup has the end of what a whole bar would have. */
export const missingOf = ({ meter, ticks }: TimelineBar): number => Math.max(0, barTicks(meter) - ticks);

/**
 * Straight ticks from the bar's start of a beat of a group, a whole number; undefined outside the bar.
 * @param beat from 1 within the group
 */
export function offsetIn(bar: TimelineBar, { start }: BeatGroup, beat: number): number | undefined {
  const offset = Math.round((start + beat - 1) * stepOf(bar.meter)) - missingOf(bar);
  return offset >= 0 && offset < bar.ticks ? offset : undefined;
}

/** The same for a beat that counts back from the end of the bar: -1 is the last beat. */
export function offsetFromEnd(bar: TimelineBar, beat: number): number | undefined {
  const offset = bar.ticks + Math.round(beat * stepOf(bar.meter));
  return offset >= 0 && offset < bar.ticks ? offset : undefined;
}

/**
 * Rows written for a bar of some beats, read for a group: what lies beyond it is left out, a longer one begins again.
 * @param rows beat first
 */
export function readFor<Row extends { readonly beat: number }>(
  rows: readonly Row[],
  written: number,
  group: number,
): readonly Row[] {
  const again = Array.from({ length: Math.ceil(group / written) }, (_, round) =>
    rows.map((row) => ({ ...row, beat: row.beat + round * written })),
  );
  return again.flat().filter(({ beat }) => beat < group + 1);
}
