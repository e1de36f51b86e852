// Prices as the map shows them: one label a spot, the cheapest fingering of it.
import type { Placement, StringNumber } from '../../instrument';
import type { Point } from './geometry';

/** What a way to play the current beat adds to the line, in thousandths. */
export interface PricedPlacement {
  readonly placement: Placement;
  readonly price: number;
  /** As shown: "B♭1". */
  readonly pitchName: string;
  /** What the note would be: a device, or its degree. */
  readonly label?: string;
  /** The same as a sentence. */
  readonly reason?: string;
}

/** All fingerings of one stop of one string. */
export interface PricedSpot {
  readonly string: StringNumber;
  readonly stop: number;
  readonly best: PricedPlacement;
  /** How many ways there are to hold it. */
  readonly ways: number;
}

/** Spots in order of price, cheapest first; equal prices keep the order they came in. */
export function pricedSpots(prices: readonly PricedPlacement[]): readonly PricedSpot[] {
  const spots = new Map<string, PricedSpot>();
  for (const priced of prices) {
    const { string, stop } = priced.placement;
    const key = `${string}:${stop}`;
    const known = spots.get(key);
    const best = known && known.best.price <= priced.price ? known.best : priced;
    spots.set(key, { string, stop, best, ways: (known?.ways ?? 0) + 1 });
  }
  return [...spots.values()].toSorted((a, b) => a.best.price - b.best.price);
}

export const arrowKeys = ['ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown'] as const;
export type ArrowKey = (typeof arrowKeys)[number];

const directions: Readonly<Record<ArrowKey, Point>> = {
  ArrowLeft: { x: -1, y: 0 },
  ArrowRight: { x: 1, y: 0 },
  ArrowUp: { x: 0, y: -1 },
  ArrowDown: { x: 0, y: 1 },
};

export const isArrowKey = (key: string): key is ArrowKey => arrowKeys.some((one) => one === key);

/**
 * The point that an arrow key leads to: the nearest one on that side of the screen, distance sideways counting double.
 * Works on screen places, so a mirrored board has mirrored keys. The same index when there is none.
 */
export function neighbour(points: readonly Point[], from: number, key: ArrowKey): number {
  const start = points[from];
  if (start === undefined) return from;
  const way = directions[key];
  let best = from;
  let least = Infinity;
  points.forEach((point, index) => {
    const dx = point.x - start.x;
    const dy = point.y - start.y;
    const forward = dx * way.x + dy * way.y;
    const sideways = Math.abs(dx * way.y) + Math.abs(dy * way.x);
    if (index === from || forward <= 1 || sideways > forward * 2) return;
    const distance = forward + 2 * sideways;
    if (distance < least) [best, least] = [index, distance];
  });
  return best;
}
