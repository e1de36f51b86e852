// Where in the chart text a scale is asked for, so that a choice on the screen is a change of the text.
import type { ScaleName } from '../music';
import { withScale, type Chart, type Slot, type Span, type Timeline } from '../pipeline';

/**
 * The place in the text of the chord that sounds at a slot. A chord that only goes on, or that a simile repeats, stands
 * where it was written last; null when it is nowhere in the text.
 */
export function chordSpan(
  chart: Chart,
  timeline: Timeline,
  slot: Pick<Slot, 'bar' | 'harmony'>,
): Span | null {
  const bar = timeline.bars[slot.bar];
  const symbol = slot.harmony.chord?.symbol;
  if (!bar || symbol === undefined) return null;
  const offset = slot.harmony.tick - bar.tick;
  for (let index = bar.chartBar; index >= 0; index -= 1) {
    const chords = chart.bars[index]?.chords ?? [];
    const before = index === bar.chartBar ? chords.filter((chord) => chord.offset <= offset) : chords;
    const found = before.findLast((chord) => chord.span !== null && chord.chord?.symbol === symbol);
    if (found) return found.span;
  }
  return null;
}

/** The chart text with that scale over the chord of the slot; null as the scale leaves the choice to the program. */
export function textWithScale(
  text: string,
  chart: Chart,
  timeline: Timeline,
  slot: Pick<Slot, 'bar' | 'harmony'>,
  scale: ScaleName | null,
): string {
  const span = chordSpan(chart, timeline, slot);
  return span ? withScale(text, span, scale) : text;
}
