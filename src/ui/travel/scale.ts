// The neck from top to bottom of a strip: true millimetres, the nut on top.
import { regionBounds, regions, stopDistance, type Instrument, type Region } from '../../instrument';
import type { Line } from '../../pipeline/5-line';

/** Where positions stand on a strip. */
export interface NeckScale {
  readonly height: number;
  /** y of the first finger in a position; halves between positions are allowed. */
  readonly y: (position: number) => number;
  readonly bands: readonly { readonly region: Region; readonly y: number; readonly height: number }[];
}

/** Height in pixels of the drawing of a strip: its edges are drawn half outside the scale. */
export const stripRoom = ({ height }: Pick<NeckScale, 'height'>): number => height + 2;

/** The strip ends at least here, so that the octave has room for its name. */
const leastEnd = 15;

/** Pixels above the strip's nut where the hand is on an extension, whichever of its stops it takes: there is no more room. */
const beyondNut = 5;

/** One scale for all strips of the lines shown, so that heights compare. */
export function neckScale(
  instrument: Pick<Instrument, 'length'>,
  lines: readonly (Line | null)[],
  height: number,
): NeckScale {
  let end = leastEnd;
  for (const line of lines) {
    for (const { placement } of line?.notes ?? []) end = Math.max(end, placement.position + 1);
  }
  const whole = stopDistance(instrument, end);
  const y = (position: number): number =>
    position < 0 ? -beyondNut : (stopDistance(instrument, position) / whole) * height;
  const bands = regions.map((region, place) => {
    const top = place === 0 ? 0 : y(regionBounds(region).from - 0.5);
    const next = regions[place + 1];
    const bottom = next === undefined ? height : y(regionBounds(next).from - 0.5);
    return { region, y: top, height: bottom - top };
  });
  return { height, y, bands };
}
