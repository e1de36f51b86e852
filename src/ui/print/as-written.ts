// One chorus on paper as its chart is written: every bar once, with repeats and endings, as it is played first.
import type { BarIndex } from '../../music';
import type { BarForm } from '../../notation';
import type { Chart, Line, Timeline } from '../../pipeline';
import { sheetLines } from '../changes/sheet';
import { excerptOf } from '../practice/excerpt';
import { words } from '../words';

export interface WrittenMusic {
  readonly timeline: Timeline;
  readonly line: Line;
  /** By the index of the bar. */
  readonly forms: readonly BarForm[];
}

interface Music {
  readonly timeline: Timeline;
  readonly line: Line;
}

/** Where every written bar is played first, in the order of the chart. */
function firstBars({ bars }: Timeline): readonly BarIndex[] {
  const first = new Map<number, BarIndex>();
  for (const { chartBar, index } of bars) if (!first.has(chartBar)) first.set(chartBar, index);
  return [...first].sort(([one], [other]) => one - other).map(([, index]) => index);
}

/** A chorus is longer than it is written: something in it comes again. */
export const comesAgain = ({ bars }: Timeline): boolean => {
  const chorus = bars.filter((bar) => bar.chorus === bars[0]?.chorus);
  return new Set(chorus.map(({ chartBar }) => chartBar)).size < chorus.length;
};

/** Written bars that are never played are left out. */
export function asWritten({ timeline, line }: Music, chart: Chart): WrittenMusic {
  const first = firstBars(timeline);
  const cut = excerptOf(timeline, line, first);
  const placed = sheetLines(chart.bars).flatMap(({ bars }) => bars);
  const forms = first.map((index): BarForm => {
    const { bar, endingStart, endingStop } = placed[timeline.bars[index]!.chartBar]!;
    const { repeatStart, repeatEnd, ending, segno, coda, toCoda, fine, jump } = bar;
    const { changes } = words;
    return {
      repeatStart,
      repeatEnd,
      ending: ending === null ? null : (endingStart ?? ''),
      endingStops: endingStop,
      opening: segno ? changes.segno : coda ? changes.coda : null,
      closing: jump ?? (toCoda ? changes.toCoda : fine ? changes.fine : null),
    };
  });
  const bars = cut.timeline.bars.map((bar) => ({ ...bar, chorus: 0 }));
  return { timeline: { ...cut.timeline, choruses: 1, bars }, line: cut.line, forms };
}
