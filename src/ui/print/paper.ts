// What goes on paper: how wide it is, which bars, and the sections that have a map of their own.
import { barIndex, numberOfBar, type BarNumber } from '../../music';
import { type Paper } from '../../state';
import { toldSpans, type Line, type LineNote, type Timeline } from '../../pipeline';
import { layoutStaff, type LayoutOptions } from '../../notation';
import { excerptOf } from '../practice/excerpt';

/** Room between margins of 14 mm, in CSS pixels of 1/96 inch: 182 mm of A4, 187.9 mm of Letter. */
export const paperWidths: Readonly<Record<Paper, number>> = { A4: 687, Letter: 710 };

/** Large print: how many times as large the staff and the digits are as usual. */
export const largePrint = { staff: 1.7, digits: 2.5 } as const;

/** Ways into a note on one sheet: how many, the width of their small staves in pixels, and their size: Letter is lower. */
export const waysOnPaper = { most: 5, width: 400, sizes: { A4: 0.8, Letter: 0.7 } } as const;

/**
 * Twelve keys on one page: pixels between columns, of a caption, under a system, and of the page left beneath its head (A4 and
 * Letter less margins of 14 mm and some 100 for the head); digits larger than their staff, so that they are read.
 */
export const roundOnPaper = {
  gap: 18,
  caption: 20,
  system: 2,
  digits: 1.45,
  page: { A4: 905, Letter: 840 },
} as const;

/** Sizes that are tried, the largest first. Under the last a digit is smaller than 5 pt. */
const roundSizes = [0.8, 0.7, 0.65, 0.6, 0.55, 0.5, 0.46, 0.43, 0.4, 0.38, 0.37, 0.36, 0.35];
/** Where not even the smallest fit, the keys go on to further pages and are set to be read with ease. */
const severalPages = 0.6;
const largeRound = 1.3;
const leastGap = 4;
const mostSpare = 40;

export interface RoundFit {
  readonly columns: 1 | 2 | 3;
  /** How many times as large as usual the staves are. */
  readonly size: number;
  /** Pixels between rows, so that they fill the page. */
  readonly rowGap: number;
}

/** The largest staves with which all keys stand on one page; the smallest that are read where none do. */
export function fitRound(
  keys: readonly Music[],
  paper: Paper,
  isLarge: boolean,
  options: Pick<LayoutOptions, 'instrument' | 'positionNumeral' | 'stringText'>,
): RoundFit {
  if (isLarge) return { columns: 1, size: largeRound, rowGap: leastGap };
  const { gap, caption, system, digits, page } = roundOnPaper;
  const heightOf = ({ timeline, line }: Music, width: number, size: number): number => {
    const made = layoutStaff(timeline, line, {
      ...options,
      width: Math.floor(width / size),
      showRoles: false,
      digits,
    });
    return caption + made.systems.reduce((sum, { height }) => sum + size * height + system, 0);
  };
  for (const size of roundSizes)
    for (const columns of [1, 2, 3] as const) {
      const width = (paperWidths[paper] - (columns - 1) * gap) / columns;
      const heights = keys.map((key) => heightOf(key, width, size));
      let sum = 0;
      for (let row = 0; row < heights.length; row += columns)
        sum += Math.max(...heights.slice(row, row + columns)) + leastGap;
      const spare = (page[paper] - sum) / Math.ceil(heights.length / columns);
      if (spare >= 0) return { columns, size, rowGap: leastGap + Math.min(mostSpare, spare) };
    }
  return { columns: 2, size: severalPages, rowGap: leastGap };
}

interface Music {
  readonly timeline: Timeline;
  readonly line: Line;
}

/** The first choruses of a line; all of it when there are no more. */
export function firstChoruses({ timeline, line }: Music, choruses: number): Music {
  const bars = timeline.bars.filter(({ chorus }) => chorus < choruses);
  if (bars.length === timeline.bars.length) return { timeline, line };
  return excerptOf(
    timeline,
    line,
    bars.map(({ index }) => index),
  );
}

/** A stretch of bars with its own map. */
export interface PaperSection {
  /** Null where the chart names none. */
  readonly name: string | null;
  /** First and last bar. */
  readonly from: BarNumber;
  readonly to: BarNumber;
  readonly notes: readonly LineNote[];
}

/** Sections as the chart names them; a chorus opens one in any case. */
export function sectionsOf({ timeline, line }: Music): readonly PaperSection[] {
  const starts = timeline.bars.flatMap(({ index, section, chorus }) =>
    index === 0 || section !== null || timeline.bars[index - 1]?.chorus !== chorus ? [index] : [],
  );
  return starts.map((from, place) => {
    const last = barIndex((starts[place + 1] ?? timeline.bars.length) - 1);
    return {
      name: timeline.bars[from]?.section ?? null,
      from: numberOfBar(from),
      to: numberOfBar(last),
      notes: line.notes.filter(({ slot }) => slot.bar >= from && slot.bar <= last),
    };
  });
}

/**
 * Notes to leave out of a worksheet: those a lesson changed; without any, those of the approaches and devices, and of a line
 * that has none the last note of every bar.
 */
export function gapsOf(line: Line, changed: readonly number[]): readonly number[] {
  if (changed.length > 0) return changed;
  const told = [...new Set(toldSpans(line.devices).flatMap(({ notes }) => notes))].sort((a, b) => a - b);
  if (told.length > 0) return told;
  return line.notes.filter(({ bar }, index) => line.notes[index + 1]?.bar !== bar).map(({ index }) => index);
}
