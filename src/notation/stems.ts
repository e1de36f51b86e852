// Stems, flags and beams of the heads of one bar, once they have places.
import type { HeadContent } from './contents';
import { engraving, glyph } from './glyphs';

/** A head with its place; `x` is its middle. */
export interface PlacedHead extends HeadContent {
  readonly x: number;
  readonly y: number;
}

export interface Stem {
  readonly up: boolean;
  readonly x: number;
  readonly from: number;
  readonly to: number;
}

const headName = ({ piece, isDead }: HeadContent): string =>
  isDead && piece.value >= 4
    ? 'noteheadXBlack'
    : piece.value === 1
      ? 'noteheadWhole'
      : piece.value === 2
        ? 'noteheadHalf'
        : 'noteheadBlack';

export const headGlyph = (head: HeadContent): ReturnType<typeof glyph> => glyph(headName(head));

/** The middle line of the staff. */
const middleStep = 4;

/** Stems point to the middle of the staff; on the middle line they point down. */
const pointsUp = (heads: readonly PlacedHead[]): boolean => {
  const farthest = heads.reduce((far, head) =>
    Math.abs(head.step - middleStep) > Math.abs(far.step - middleStep) ? head : far,
  );
  return farthest.step < middleStep;
};

function stemX(head: PlacedHead, up: boolean, space: number): number {
  const half = (headGlyph(head).advance / 2 - engraving.stem / 2) * space;
  return up ? head.x + half : head.x - half;
}

const stemStart = (head: PlacedHead, up: boolean, space: number): number =>
  head.y + (up ? -engraving.stemAttach : engraving.stemAttach) * space;

/** A stem of its own: an octave long, or to the middle line from far outside the staff. */
function singleStem(head: PlacedHead, middleY: number, space: number): Stem {
  const up = pointsUp([head]);
  const tip = head.y + (up ? -1 : 1) * engraving.stemLength * space;
  return {
    up,
    x: stemX(head, up, space),
    from: stemStart(head, up, space),
    to: up ? Math.min(tip, middleY) : Math.max(tip, middleY),
  };
}

/** A filled bar of a beam between two points of its outer edge, as an SVG path. */
function beamPath(x1: number, y1: number, x2: number, y2: number, thickness: number): string {
  const n = (value: number): string => value.toFixed(2);
  return `M${n(x1)} ${n(y1)}L${n(x2)} ${n(y2)}L${n(x2)} ${n(y2 + thickness)}L${n(x1)} ${n(y1 + thickness)}Z`;
}

/** The slope follows the notes, gently: at most one space over the group. */
const slopeOf = (first: PlacedHead, last: PlacedHead, space: number): number =>
  Math.max(-space, Math.min(space, (last.y - first.y) / 2)) / Math.max(1, last.x - first.x);

interface Beamed {
  readonly stems: readonly Stem[];
  readonly path: string;
}

function beamed(heads: readonly PlacedHead[], middleY: number, space: number): Beamed {
  const up = pointsUp(heads);
  const sign = up ? -1 : 1;
  const xs = heads.map((head) => stemX(head, up, space));
  const slope = slopeOf(heads[0]!, heads.at(-1)!, space);
  const along = (x: number): number => slope * (x - xs[0]!);
  // The beam as near as the shortest stem allows, and not short of the middle line.
  const distances = heads.map((head, index) => {
    const tip = head.y + sign * Math.max(engraving.leastStem, engraving.stemLength - 0.5) * space;
    return (up ? Math.min(tip, middleY) : Math.max(tip, middleY)) - along(xs[index]!);
  });
  const base = up ? Math.min(...distances) : Math.max(...distances);
  const at = (x: number): number => base + along(x);
  const half = (engraving.stem / 2) * space;
  const thickness = -sign * engraving.beam * space;
  const parts = [beamPath(xs[0]! - half, at(xs[0]!), xs.at(-1)! + half, at(xs.at(-1)!), thickness)];
  const inner = -sign * (engraving.beam + engraving.beamGap) * space;
  heads.forEach((head, index) => {
    if (head.piece.value !== 16) return;
    const next = heads[index + 1];
    const before = heads[index - 1];
    if (next?.piece.value === 16) {
      parts.push(
        beamPath(xs[index]!, at(xs[index]!) + inner, xs[index + 1]!, at(xs[index + 1]!) + inner, thickness),
      );
    } else if (before?.piece.value !== 16) {
      const stub = xs[index]! + (next ? 1 : -1) * space;
      parts.push(beamPath(xs[index]!, at(xs[index]!) + inner, stub, at(stub) + inner, thickness));
    }
  });
  const stems = heads.map((head, index) => ({
    up,
    x: xs[index]!,
    from: stemStart(head, up, space),
    to: at(xs[index]!),
  }));
  return { stems, path: parts.join('') };
}

export interface BarStems {
  /** By head; null for a whole note. */
  readonly stems: readonly (Stem | null)[];
  /** True where a flag is due. */
  readonly flagged: readonly boolean[];
  readonly beams: readonly string[];
}

/** Stems and beams of a bar. `groups` lists the heads that share a beam. */
export function barStems(
  heads: readonly PlacedHead[],
  groups: readonly (readonly number[])[],
  middleY: number,
  space: number,
): BarStems {
  const stems: (Stem | null)[] = heads.map((head) =>
    head.piece.value === 1 ? null : singleStem(head, middleY, space),
  );
  const inBeam = new Set(groups.flat());
  const beams = groups.map((group) => {
    const made = beamed(
      group.map((index) => heads[index]!),
      middleY,
      space,
    );
    group.forEach((index, place) => (stems[index] = made.stems[place]!));
    return made.path;
  });
  return { stems, flagged: heads.map((head, index) => head.piece.value >= 8 && !inBeam.has(index)), beams };
}
