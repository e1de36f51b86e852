// Between heights of the line, 0 for low and 1 for high, and places on the strip under the music.
import type { BarIndex } from '../../music';
import type { HandPosition } from '../../instrument';
import type { HeightWish } from '../../pipeline';
import type { NeckScale } from '../travel';

/** On the strip a line that is as high as it goes lies where the hand is at the octave. */
const octave = 12 as HandPosition;

/** Pixels below the top of the strip. */
export const yOfHeight = (scale: NeckScale, height: number): number => height * scale.y(octave);

/** The height at so many pixels below the top, in hundredths. */
export const heightOfY = (scale: NeckScale, y: number): number =>
  Math.round(Math.min(1, Math.max(0, y / scale.y(octave))) * 100) / 100;

/** A bar of a strip as the drawing needs it. */
export interface DrawnBar {
  /** In its chorus, from 1. */
  readonly bar: number;
  readonly left: number;
  readonly width: number;
  /** Null where nothing is drawn. */
  readonly height: number | null;
}

interface Placed {
  readonly index: BarIndex;
  readonly x: number;
  readonly width: number;
}

/** @param inChorus the bar's place in its chorus, from 1, by its index in playing order */
export const drawnBars = (
  bars: readonly Placed[],
  inChorus: (index: BarIndex) => number,
  heights: readonly HeightWish[],
): readonly DrawnBar[] =>
  bars.map(({ index, x, width }) => {
    const bar = inChorus(index);
    const height = heights.find((one) => one.bar === bar)?.height ?? null;
    return { bar, left: x, width, height };
  });

/** The bar under a pointer; undefined beside the bars. */
export const barAt = (bars: readonly DrawnBar[], x: number): DrawnBar | undefined =>
  bars.find(({ left, width }) => x >= left && x < left + width);

/** A line through the middles of the bars that have a height. */
export const pathThrough = (bars: readonly DrawnBar[], scale: NeckScale): string =>
  bars
    .flatMap(({ left, width, height }) =>
      height === null ? [] : [`${(left + width / 2).toFixed(1)} ${yOfHeight(scale, height).toFixed(1)}`],
    )
    .map((point, at) => `${at === 0 ? 'M' : 'L'}${point}`)
    .join('');
