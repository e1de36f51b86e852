// The words on paper, and those of the choice of what is printed.
import type { Paper } from '../../state';

export const paperWords: Readonly<Record<Paper, string>> = { A4: 'A4', Letter: 'Letter' };

export const words = {
  tempo: (tempo: number): string => `♩ = ${tempo}`,
  maps: 'Where the hand goes',
  map: (name: string | null, from: number, to: number): string => {
    const bars = from === to ? `bar ${from}` : `bars ${from}–${to}`;
    return name === null ? bars : `${name}, ${bars}`;
  },
  signs:
    'Over the notes the fingers, 0 an open string. Under them the string where it changes, and the position the hand is in. An arrow: the hand moves while an open string rings.',
  options: 'On paper',
  paper: 'Paper',
  choruses: 'Choruses',
  withReport: 'Hand report',
  withMaps: 'A small map for every section',
} as const;
