// What goes on paper: how wide it is, which bars, and the sections that have a map of their own.
import { type Paper } from '../../state';
import { toldSpans, type Line, type LineNote, type Timeline } from '../../pipeline';
import { excerptOf } from '../practice/excerpt';

/** Room between margins of 14 mm, in CSS pixels of 1/96 inch: 182 mm of A4, 187.9 mm of Letter. */
export const paperWidths: Readonly<Record<Paper, number>> = { A4: 687, Letter: 710 };

/** Large print: how many times as large the staff and the digits are as usual. */
export const largePrint = { staff: 1.7, digits: 2.5 } as const;

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
  /** First and last bar in playing order, from 1. */
  readonly from: number;
  readonly to: number;
  readonly notes: readonly LineNote[];
}

/** Sections as the chart names them; a chorus opens one in any case. */
export function sectionsOf({ timeline, line }: Music): readonly PaperSection[] {
  const starts = timeline.bars.flatMap(({ section, chorus }, bar) =>
    bar === 0 || section !== null || timeline.bars[bar - 1]?.chorus !== chorus ? [bar] : [],
  );
  return starts.map((from, place) => {
    const end = starts[place + 1] ?? timeline.bars.length;
    return {
      name: timeline.bars[from]?.section ?? null,
      from: from + 1,
      to: end,
      notes: line.notes.filter(({ slot }) => slot.bar >= from && slot.bar < end),
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
