// A worksheet: the staff with some of its notes left out, to be written in.
import type { StaffLayout, SystemLayout } from './model';

export interface GappedStaff {
  readonly layout: StaffLayout;
  /** By system: where a note was left out, as places on its axis. */
  readonly places: readonly (readonly number[])[];
}

function withoutNotes(system: SystemLayout, isGap: (index: number) => boolean): SystemLayout {
  return {
    ...system,
    notes: system.notes.filter(({ index }) => !isGap(index)),
    tiedHeads: system.tiedHeads.filter(({ index }) => !isGap(index)),
    carries: system.carries.filter(({ note }) => !isGap(note)),
    // Names would tell what is to be found.
    devices: [],
  };
}

/** The layout without the notes at some indices, their fingers and strings, and without the names of devices. */
export function withGaps(layout: StaffLayout, gaps: readonly number[]): GappedStaff {
  if (gaps.length === 0) return { layout, places: layout.systems.map(() => []) };
  const wanted = new Set(gaps);
  const isGap = (index: number): boolean => wanted.has(index);
  return {
    layout: { ...layout, systems: layout.systems.map((system) => withoutNotes(system, isGap)) },
    places: layout.systems.map(({ notes }) => notes.filter(({ index }) => isGap(index)).map(({ x }) => x)),
  };
}
