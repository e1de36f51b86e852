// What goes on paper: how wide it is, which bars, and the sections that have a map of their own.
import { type Paper } from '../../state';
import type { Line, LineNote, Timeline } from '../../pipeline';
import { excerptOf } from '../practice/excerpt';

/** Room between margins of 14 mm, in CSS pixels of 1/96 inch: 182 mm of A4, 187.9 mm of Letter. */
export const paperWidths: Readonly<Record<Paper, number>> = { A4: 687, Letter: 710 };

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
