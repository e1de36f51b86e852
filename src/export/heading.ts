// What stands over a line that leaves as plain text.
import { printKey } from '../music';
import { feelText, meterText } from '../pipeline/1-chart';
import type { Timeline, TimelineBar } from '../pipeline/2-timeline';
import { rounded } from './names';

// A control character in a title could drive the terminal.
const printable = (text: string): string => text.replace(/[\p{Cc}\p{Cf}\p{Cs}]/gu, '').trim();

/** The section and, of several, the chorus that opens with a bar; null where neither is named. */
export function partHeading(
  bar: TimelineBar,
  before: TimelineBar | undefined,
  choruses: number,
): string | null {
  const opensChorus = choruses > 1 && bar.chorus !== before?.chorus;
  const parts = [
    ...(opensChorus ? [`Chorus ${bar.chorus + 1}`] : []),
    ...(bar.section === null ? [] : [printable(bar.section)]),
  ];
  return parts.length === 0 ? null : parts.join(': ');
}

/** The title, where there is one, and a line of key, meter, feel, tempo and number of bars. */
export function headingLines({ title, key, tempo, feel, bars }: Timeline): readonly string[] {
  const facts = [
    printKey(key),
    meterText(bars[0]?.meter ?? { beats: 4, unit: 4 }),
    feelText(feel),
    `${rounded(tempo, 1)} bpm`,
    bars.length === 1 ? '1 bar' : `${bars.length} bars`,
  ];
  const heading = printable(title);
  return [...(heading === '' ? [] : [heading]), facts.join(', ')];
}
