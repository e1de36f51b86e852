// Which notes of a bar share a beam.
import type { BarGrid } from './grid';
import { noteTypes, type NoteValue } from './values';

/** A written note by the ticks of its bar; a rest has no flags. */
export interface BeamInput {
  readonly start: number;
  readonly end: number;
  readonly flags: number;
}

/** Flags that a note of this value has by itself, each a stroke under a beam. */
export const flagsOf = (value: NoteValue | null): number =>
  value === null ? 0 : Math.max(0, noteTypes.indexOf(value.type) - noteTypes.indexOf('quarter'));

/** Neighbours with flags in one beam group of the bar, at least two together, as places in the list. */
export function beamRuns(inputs: readonly BeamInput[], grid: BarGrid): readonly (readonly number[])[] {
  const runs: number[][] = [];
  inputs.forEach(({ start, flags }, place) => {
    if (flags === 0) return;
    const run = runs.at(-1);
    const before = inputs[run?.at(-1) ?? -1];
    const joins = before?.end === start && grid.beamGroup(before.start) === grid.beamGroup(start);
    if (joins) run!.push(place);
    else runs.push([place]);
  });
  return runs.filter((run) => run.length > 1);
}
