// How a chart is played, as one line of text: bars apart by " | ", a chord after the first with its beat.
import { barTicks, beatTicks, meterText, type Chart, type ChartBar } from '../../../src/pipeline/1-chart';
import { unroll } from '../../../src/pipeline/2-timeline';

/** "C7 F7@3", with the meter in brackets when it is not 4/4, or what there is of a pickup. */
function barText(bar: ChartBar): string {
  const beat = beatTicks(bar.meter);
  const chords = bar.chords.map(({ chord, offset }) => {
    const symbol = chord?.symbol ?? 'N.C.';
    return offset === 0 ? symbol : `${symbol}@${Number((offset / beat + 1).toFixed(3))}`;
  });
  const length = bar.chords.reduce((sum, chord) => sum + chord.length, 0);
  const isShort = length < barTicks(bar.meter);
  const meter = meterText(bar.meter) === '4/4' ? [] : [`(${meterText(bar.meter)})`];
  return [...chords, ...(isShort ? [`(${length / beat} of ${bar.meter.beats})`] : meter)].join(' ');
}

/** One line for each chorus. */
export function playedLines(chart: Chart, choruses: number): readonly string[] {
  const { bars } = unroll(chart, choruses);
  return Array.from({ length: choruses }, (_, chorus) =>
    bars
      .filter((bar) => bar.chorus === chorus)
      .map((bar) => barText(chart.bars[bar.chartBar]!))
      .join(' | '),
  );
}
