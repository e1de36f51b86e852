// Charts for measuring: generic changes of any length.
import { seededRandom } from '../../src/music';

const lines = [
  'F7 | Bb7 | F7 | Cm7 F7',
  'Bb7 | Bdim7 | F7 | Am7b5 D7',
  'Gm7 | C7 | F7 D7 | Gm7 C7',
  'Ebmaj7 | Ebm7 Ab7 | Dm7 G7 | C7sus4 C7',
];

/** @param bars a multiple of 4; the changes come round every 16 */
export function longChart(bars: number): string {
  const all = Array.from({ length: bars / 4 }, (_, index) => `| ${lines[index % lines.length]!} |`);
  return `Title: Bench\nKey: F\nTempo: 132\n\n${all.join('\n')}\n`;
}

const roots = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];
const kinds = ['7', 'maj7', 'm7', 'm7b5', 'dim7', '6', 'm6', '7b9', '7sus4', 'm9'];

/** Changes drawn by chance, so that the form never comes round. */
export function changingChart(bars: number, seed = 1): string {
  const random = seededRandom(seed);
  const pick = (values: readonly string[]): string => values[Math.floor(random() * values.length)]!;
  const chord = (): string => pick(roots) + pick(kinds);
  const all = Array.from({ length: bars }, () => (random() < 0.4 ? `${chord()} ${chord()}` : chord()));
  return `Title: Bench\nKey: F\nTempo: 132\n\n| ${all.join(' | ')} |\n`;
}
