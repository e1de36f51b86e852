// Beams as MusicXML marks them: every stroke at every note.
import { beamRuns, type BarGrid, type BeamInput } from '../music';

export const beamMarks = ['begin', 'continue', 'end', 'forward hook', 'backward hook'] as const;
export type BeamMark = (typeof beamMarks)[number];

function runMarks(flags: readonly number[]): BeamMark[][] {
  return flags.map((own, index) =>
    Array.from({ length: own }, (_, stroke): BeamMark => {
      const before = (flags[index - 1] ?? 0) > stroke;
      const after = (flags[index + 1] ?? 0) > stroke;
      if (before) return after ? 'continue' : 'end';
      if (after) return 'begin';
      return index > 0 ? 'backward hook' : 'forward hook';
    }),
  );
}

/** For every piece its beams, the outermost first; empty for one that stands alone or has no flag. */
export function beamsOf(inputs: readonly BeamInput[], grid: BarGrid): BeamMark[][] {
  const marks: BeamMark[][] = inputs.map(() => []);
  for (const run of beamRuns(inputs, grid)) {
    const own = runMarks(run.map((place) => inputs[place]!.flags));
    run.forEach((place, index) => (marks[place] = own[index]!));
  }
  return marks;
}
