// Charts for measuring: generic changes of any length.

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
