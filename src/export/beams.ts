// Beams: which notes of a beam group are joined, and by how many strokes.
import type { BarGrid } from './bar-grid';
import { noteTypes, type Piece } from './note-values';

export const beamMarks = ['begin', 'continue', 'end', 'forward hook', 'backward hook'] as const;
export type BeamMark = (typeof beamMarks)[number];

/** A piece and whether it is silent. */
export interface BeamInput {
  readonly piece: Piece;
  readonly isRest: boolean;
}

const flagsOf = ({ piece, isRest }: BeamInput): number =>
  isRest || piece.value === null
    ? 0
    : Math.max(0, noteTypes.indexOf(piece.value.type) - noteTypes.indexOf('quarter'));

function groupMarks(flags: readonly number[]): BeamMark[][] {
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
  const marks: BeamMark[][] = [];
  let from = 0;
  while (from < inputs.length) {
    const group = grid.beamGroup(inputs[from]!.piece.start);
    let to = from + 1;
    if (flagsOf(inputs[from]!) > 0) {
      while (
        to < inputs.length &&
        flagsOf(inputs[to]!) > 0 &&
        grid.beamGroup(inputs[to]!.piece.start) === group
      ) {
        to += 1;
      }
    }
    const flags = inputs.slice(from, to).map(flagsOf);
    marks.push(...(flags.length > 1 ? groupMarks(flags) : [[]]));
    from = to;
  }
  return marks;
}
