// Where prices have room on the map: the cheapest first, none over another; the rest are small marks.
import type { Point } from './geometry';

/** Half the width and half the height of something that lies around a point, in pixels. */
export interface Extent {
  readonly x: number;
  readonly y: number;
}

export type Side = 'right' | 'left' | 'above' | 'below';

/** Radius in pixels of the mark of a spot whose price has no room. */
export const dotRadius = 5;

const overlaps = (a: Point, sizeA: Extent, b: Point, sizeB: Extent): boolean =>
  Math.abs(a.x - b.x) < sizeA.x + sizeB.x && Math.abs(a.y - b.y) < sizeA.y + sizeB.y;

const dot: Extent = { x: dotRadius, y: dotRadius };

/** The middle of a label that hangs on one side of a disc. */
export function besideDisc(disc: Point, radius: number, label: Extent, side: Side): Point {
  const [away, over] = [radius + label.x, radius + label.y];
  if (side === 'right') return { x: disc.x + away, y: disc.y };
  if (side === 'left') return { x: disc.x - away, y: disc.y };
  return { x: disc.x, y: side === 'above' ? disc.y - over : disc.y + over };
}

/**
 * The side of a disc on which its label covers the fewest other spots and stays in the box; of equal ones the first of
 * right, left, above, below.
 */
export function sideOf(
  disc: Point,
  radius: number,
  label: Extent,
  others: readonly Point[],
  box: { readonly width: number; readonly height: number },
): Side {
  const cost = (side: Side): number => {
    const middle = besideDisc(disc, radius, label, side);
    const isOut =
      middle.x - label.x < 0 ||
      middle.y - label.y < 0 ||
      middle.x + label.x > box.width ||
      middle.y + label.y > box.height;
    const covered = others.filter((other) => overlaps(middle, label, other, dot)).length;
    return covered + (isOut ? others.length + 1 : 0);
  };
  const sides: readonly Side[] = ['right', 'left', 'above', 'below'];
  return sides.reduce((best, side) => (cost(side) < cost(best) ? side : best));
}

/** Points so close along a way that no label fits between them. */
export function alongWay(spots: readonly Point[]): readonly Point[] {
  const step = 8;
  return spots.flatMap((to, index) => {
    const from = spots[index - 1];
    if (!from) return [to];
    const parts = Math.max(1, Math.ceil(Math.hypot(to.x - from.x, to.y - from.y) / step));
    return Array.from({ length: parts }, (_, part) => {
      const share = (part + 1) / parts;
      return { x: from.x + (to.x - from.x) * share, y: from.y + (to.y - from.y) * share };
    });
  });
}

/**
 * Which labels have room, in the order they come in: a label is shown where it covers neither one shown before it, nor
 * anything that is in its way, nor the mark of an earlier spot that had no room.
 * @param points the middle of every label
 * @param labels how large each of them is
 * @param taken what lies on the map already
 */
export function shownLabels(
  points: readonly Point[],
  labels: readonly Extent[],
  taken: readonly (readonly [middle: Point, size: Extent])[],
): readonly boolean[] {
  const inTheWay = [...taken];
  return points.map((point, index) => {
    const label = labels[index] ?? dot;
    const fits = !inTheWay.some(([middle, size]) => overlaps(point, label, middle, size));
    inTheWay.push([point, fits ? label : dot]);
    return fits;
  });
}
