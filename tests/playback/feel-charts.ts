// A form in every feel, with sections, for what is heard of a whole band.
import type { Feel } from '../../src/pipeline/1-chart';

const tempi: Readonly<Record<Feel, number>> = {
  swing: 160,
  'two-feel': 120,
  waltz: 140,
  ballad: 64,
  bossa: 130,
  straight: 140,
};

/** Sixteen bars in two sections. */
export const chartIn = (feel: Feel): string => `Title: Band
Key: F
Meter: ${feel === 'waltz' ? '3/4' : '4/4'}
Tempo: ${tempi[feel]}
Feel: ${feel}

[A]
| F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bdim7 | F7 | D7 |
[B]
| Gm7 | C7 | F7 D7 | Gm7 C7 | Am7 | D7 | Gm7 | C7 |]
`;
