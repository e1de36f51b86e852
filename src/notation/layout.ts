// The staff as one page of passes: contents -> bar widths and line breaks -> places. Pure: the same in Node and on a screen.
//
// Drawing uses our own layout and the glyphs of a SMuFL font. A general engraving library (VexFlow 5.0.0) was
// tried first on the same page, 128 notes in 8 systems with their x given by us, in headless Chromium on two cores: 81 to
// 103 ms warm and 128 to 328 ms cold, 91 KB gzip, and it measures text on a canvas once its font has arrived, so that
// layout cannot run before that nor in a test without a screen. One voice of quarters, halves and eighths needs none of what it
// adds, and our axis, rows and break rules had to be written in any case; so it is not used.
import type { Timeline } from '../pipeline/2-timeline';
import type { Line } from '../pipeline/5-line';
import { barContents } from './contents';
import type { LayoutOptions, Sizes, StaffLayout, SystemLayout } from './model';
import { breakSystems } from './spacing';
import { placeSystem } from './system';

/** Pixels from staff line to staff line; never under six, so that a phone shows fewer bars and not smaller notes. */
export function spaceFor(width: number): number {
  if (width >= 960) return 9;
  if (width >= 620) return 8;
  return width >= 340 ? 7.5 : 7;
}

/** Font sizes that go with a staff. */
export const sizesFor = (space: number): Sizes => ({
  chord: space * 1.2 + 10,
  finger: space * 0.6 + 8.6,
  numeral: space * 0.5 + 8.5,
  role: space * 0.5 + 7.5,
  label: space * 0.5 + 9.5,
});

/** No beat column is narrower, in pixels: target size of WCAG 2.2, AA. */
export const leastColumn = 24;

/**
 * Lays a line out on systems of the given width.
 *
 * @param line null draws the bars with their chord symbols only
 */
export function layoutStaff(timeline: Timeline, line: Line | null, options: LayoutOptions): StaffLayout {
  const space = spaceFor(options.width);
  const usual = sizesFor(space);
  const { digits = 1 } = options;
  const sizes = { ...usual, finger: usual.finger * digits, numeral: usual.numeral * digits };
  const { repeatStarts } = options;
  const plain = barContents(timeline, line);
  const contents = repeatStarts
    ? plain.map((content) => ({ ...content, opensRepeat: repeatStarts.has(content.bar.index) }))
    : plain;
  const broken = breakSystems(contents, options.width, { space, chordSize: sizes.chord, leastColumn });
  const systems = broken.map((system, index) =>
    placeSystem({ index, system, contents, line, choruses: timeline.choruses, space, sizes, options }),
  );
  return { width: Math.max(0, ...systems.map(({ width }) => width)), space, sizes, systems };
}

/** Where a moment stands in a system; before its first bar and after its last it keeps to their edges. */
export function xOfTick({ bars }: Pick<SystemLayout, 'bars'>, tick: number): number {
  const bar = bars.findLast((one) => one.tick <= tick) ?? bars[0]!;
  const into = Math.min(Math.max(0, tick - bar.tick), bar.ticks);
  return Math.min(bar.startX + into * bar.scale, bar.x + bar.width);
}
