// Where sections begin and end, as a band counts them.
import { barTicks } from '../../pipeline/1-chart';
import type { TimelineBar } from '../../pipeline/2-timeline';

/** Bars that belong together, first and last included; without a pickup. */
export interface SectionBars {
  readonly from: number;
  readonly to: number;
}

const isPickup = ({ meter, ticks }: TimelineBar): boolean => ticks < barTicks(meter);

/** The sections in playing order: they begin with a label, and with every chorus. A pickup belongs to none. */
export function sectionSpans(bars: readonly TimelineBar[]): readonly SectionBars[] {
  const spans: { from: number; to: number }[] = [];
  bars.forEach((bar, i) => {
    const before = bars[i - 1];
    if (isPickup(bar) && (!before || before.chorus !== bar.chorus)) return;
    const isAfterPickup = before !== undefined && isPickup(before) && spans.at(-1)?.to !== i - 1;
    const begins =
      before === undefined || isAfterPickup || bar.section !== null || before.chorus !== bar.chorus;
    const last = spans.at(-1);
    if (begins || last === undefined) spans.push({ from: i, to: i });
    else last.to = i;
  });
  return spans;
}
