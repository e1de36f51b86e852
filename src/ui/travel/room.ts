// Elbow room as a ribbon about the hand's way: the wider, the more good choices a beat from there on.
import type { TravelMark } from './path';

/** What is known of a note's elbow room. */
export interface Room {
  /** Good choices a beat from here on; null where it is not known. */
  readonly choices: number | null;
  readonly isBoxedIn: boolean;
}

export interface Ribbon {
  /** SVG path, to be filled. */
  readonly path: string;
  /** Where the line is boxed in: walls above and below the mark. */
  readonly walls: readonly { readonly x: number; readonly y: number }[];
}

/** Half a ribbon for each doubling of the choices, and the most it takes, in parts of the strip's height. */
const perDoubling = 0.057;
const most = 0.136;

/** In parts of the strip's height. One choice a beat is no room at all. */
const halfWidth = ({ choices }: Room): number =>
  choices === null ? 0 : Math.min(most, Math.max(0, Math.log2(choices)) * perDoubling);

/** The ribbon of one system. `rooms` has an entry for every note of the line; the ribbon keeps within the strip. */
export function ribbonOf(marks: readonly TravelMark[], rooms: readonly Room[], height: number): Ribbon {
  const known = marks.flatMap(({ note, x, y }) => {
    const room = rooms[note];
    return room === undefined || room.choices === null ? [] : [{ x, y, room }];
  });
  const edge = (sign: -1 | 1): string[] =>
    known.map(({ x, y, room }) => {
      const at = Math.min(height, Math.max(0, y + sign * halfWidth(room) * height));
      return `${x.toFixed(1)} ${at.toFixed(1)}`;
    });
  const outline = [...edge(-1), ...edge(1).reverse()];
  return {
    path: known.length < 2 ? '' : `M${outline.join('L')}Z`,
    walls: known.flatMap(({ x, y, room }) => (room.isBoxedIn ? [{ x, y }] : [])),
  };
}
