// The chart as written, laid out in lines of four bars; a section begins a line.
import type { ChartBar } from '../../pipeline';

export interface SheetBar {
  /** Index of the bar as written. */
  readonly index: number;
  readonly bar: ChartBar;
  /** The ending that starts here: "1." or "1. 3."; null when none does. */
  readonly endingStart: string | null;
  /** The ending's bracket closes here. */
  readonly endingStop: boolean;
  /** The meter is new here. */
  readonly meterChange: boolean;
}

export interface LeadSheetLine {
  readonly section: string | null;
  readonly bars: readonly SheetBar[];
}

const barsInLine = 4;

const samePasses = (a: readonly number[] | null, b: readonly number[] | null): boolean =>
  a === b || (a !== null && b !== null && a.join() === b.join());

export function sheetLines(bars: readonly ChartBar[]): readonly LeadSheetLine[] {
  const lines: { section: string | null; bars: SheetBar[] }[] = [];
  bars.forEach((bar, index) => {
    const [before, after] = [bars[index - 1], bars[index + 1]];
    const endingStarts =
      bar.ending !== null && (!samePasses(before?.ending ?? null, bar.ending) || before?.repeatEnd !== null);
    const endingStops =
      bar.ending !== null && (!samePasses(after?.ending ?? null, bar.ending) || bar.repeatEnd !== null);
    const placed: SheetBar = {
      index,
      bar,
      endingStart: endingStarts && bar.ending ? bar.ending.map((pass) => `${pass}.`).join(' ') : null,
      endingStop: endingStops,
      meterChange:
        before !== undefined &&
        (before.meter.beats !== bar.meter.beats || before.meter.unit !== bar.meter.unit),
    };
    const line = lines.at(-1);
    // A pickup stands before the first full bar and does not count.
    const full = line?.bars.filter((one) => !one.bar.pickup).length ?? 0;
    if (!line || bar.section !== null || full >= barsInLine)
      lines.push({ section: bar.section, bars: [placed] });
    else line.bars.push(placed);
  });
  return lines;
}
