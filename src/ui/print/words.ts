// The words on paper, and those of the choice of what is printed.
import page from '../../../shared/words/page.json' with { type: 'json' };
import type { Paper, PrintSheet } from '../../state';

export const paperWords: Readonly<Record<Paper, string>> = { A4: 'A4', Letter: 'Letter' };

export const words = {
  tempo: (tempo: number): string => `♩ = ${tempo}`,
  maps: 'Where the hand goes',
  map: (name: string | null, from: number, to: number): string => {
    const bars = from === to ? `bar ${from}` : `bars ${from}–${to}`;
    return name === null ? bars : `${name}, ${bars}`;
  },
  signs: page.signs,
  changed: (count: number, all: number, layer: string): string =>
    `${count} of ${all} notes changed from ${layer}: each has a wedge beside its finger.`,
  gapHint: (count: number): string =>
    `Write the ${count === 1 ? 'missing note' : `${count} missing notes`} into the boxes, with finger and string. The answers are on the last page.`,
  answers: 'Answers',
  answersTo: (title: string): string => `Answers: ${title}`,
  waysInto: (count: number, place: string, on: string, chord: string): string =>
    `${count === 1 ? 'The best way' : `The ${count} best ways`} into ${place[0]!.toLowerCase()}${place.slice(1)}: the ${on} of ${chord}`,
  priceSaid:
    'The price is what the whole line loses by a way, hand and melody together, in points of this program; 0 is the best line there is. It tells what is easy, not what is beautiful.',
  price: (price: string): string => `price ${price}`,
  handStays: 'The hand stays.',
  roundOf: (layer: string): string => `${layer} round the keys.`,
  sheet: 'Sheet',
  sheets: { line: 'the line', worksheet: 'worksheet with answers' } satisfies Record<PrintSheet, string>,
  isLarge: 'Large print',
  asWritten: 'One chorus with its repeats and endings',
  asWrittenSays: 'As written: every bar stands as it is played the first time.',
  options: 'On paper',
  paper: 'Paper',
  choruses: 'Choruses',
  withReport: 'Hand report',
  withMaps: 'A small map for every section',
} as const;
