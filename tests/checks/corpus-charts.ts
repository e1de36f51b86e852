// Charts that takes are measured on: those of the program that walk in four, and generic progressions that no energy was
// fitted to.
import { chartText } from '../pipeline/request';

const shipped = [
  'back-stairs-blues.txt',
  'corner-table.txt',
  'high-fence.txt',
  'low-ceiling.txt',
  'open-window.txt',
  'round-the-block.txt',
  'stepladder.txt',
  'wet-gravel-blues.txt',
];

const inFour = (key: string, tempo: number, bars: string): string =>
  `Key: ${key}\nMeter: 4/4\nTempo: ${tempo}\nFeel: swing\n${bars}\n`;

const unseen = [
  inFour(
    'F',
    184,
    '| Fmaj7 | Dm7 | Gm7 | C7 |\n| Fmaj7 | D7 | Gm7 | C7 |\n| Fmaj7 | F7 | Bbmaj7 | Eb7 |\n| Am7 D7 | Gm7 C7 | F6 | Gm7 C7 |',
  ),
  inFour(
    'Bb',
    212,
    '| Bb6 | % | Cm7 | F7 |\n| Bb6 | G7 | C7 | F7 |\n| Ebmaj7 | % | Bb6 | G7 |\n| Cm7 | F7 | Bb6 | F7 |',
  ),
  inFour(
    'G minor',
    136,
    '| Gm7 | % | Cm7 | % |\n| Am7b5 | D7b9 | Gm7 | % |\n| Cm7 | F7 | Bbmaj7 | Ebmaj7 |\n| Am7b5 | D7b9 | Gm6 | Am7b5 D7b9 |',
  ),
  inFour(
    'Eb',
    160,
    '| Eb7 | Ab7 | Eb7 | Bbm7 Eb7 |\n| Ab7 | Adim7 | Eb7 | C7 |\n| Fm7 | Bb7 | Eb7 C7 | Fm7 Bb7 |',
  ),
  inFour(
    'C',
    240,
    '| Cmaj7 | % | Ebm7 | Ab7 |\n| Dbmaj7 | % | Dm7 | G7 |\n| Cmaj7 | A7 | Dm7 | G7 |\n| Em7 | A7 | Dm7 | G7 |',
  ),
  inFour(
    'Ab',
    126,
    '| Fm7 | Bbm7 | Eb7 | Abmaj7 |\n| Dbmaj7 | Dm7 G7 | Cmaj7 | % |\n| Bbm7 | Eb7 | Abmaj7 | Bdim7 |\n| Bbm7 | Eb7 | Ab6 | Gm7b5 C7 |',
  ),
  inFour('D minor', 200, '| Dm7 | % | % | % |\n| Gm7 | % | Dm7 | % |\n| Em7b5 | A7b9 | Dm7 | A7b9 |'),
  inFour(
    'Db',
    148,
    '| Dbmaj7 | % | Ebm7 | % |\n| Ab7 | % | Dbmaj7 | % |\n| Gbmaj7 | % | Gbm6 | B7 |\n| Fm7 Bb7 | Ebm7 Ab7 | Db6 | % |',
  ),
  inFour('G', 176, '| G7 | % | % | % |\n| C7 | % | G7 | % |\n| D7 | C7 | G7 | D7 |'),
];

export const corpusCharts: readonly string[] = [...shipped.map(chartText), ...unseen];
