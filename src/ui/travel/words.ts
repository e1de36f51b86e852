// The words on the strip.
import type { Region } from '../../instrument';
import { textWidth } from '../../notation';

export const bandNames: Readonly<Record<'full' | 'short', Readonly<Record<Region, string>>>> = {
  full: { low: 'low', middle: 'middle', 'neck block': 'neck block', octave: 'octave' },
  short: { low: 'low', middle: 'mid', 'neck block': 'block', octave: 'octave' },
};

/** Font size in pixels of the names of regions, in a strip of a height: they stand one under the other. */
export const labelSizeFor = (height: number): number => Math.min(11.5, Math.max(10.5, height * 0.235));
/** Font size in pixels of what is said about a stay. */
export const stayLabelSize = 11;

/** Which names fit a margin of so many pixels. */
export const nameLengthFor = (margin: number): 'full' | 'short' =>
  margin >= textWidth('neck block', labelSizeFor(Infinity), 'sans') + 7 ? 'full' : 'short';

/** "8 beats", "4 beats, longest stay". */
export const stayText = (beats: number, isLongest: boolean): string =>
  `${beats} ${beats === 1 ? 'beat' : 'beats'}${isLongest ? ', longest stay' : ''}`;
