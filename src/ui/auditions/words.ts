// Every word of the auditions: takes in a table, to be sorted, sifted, heard and compared.
import type { Region } from '../../instrument';
import type { Column, DrawTrouble, SieveName, Walk, WalkWishes } from '../../state/auditions';
import { sliders, wishInWords } from '../wishes/words';

const percent = (share: number): string => `${Math.round(share * 100)} %`;
const beats = (count: number): string => `${count} ${count === 1 ? 'beat' : 'beats'}`;

export const takeName = (seed: number): string => `Take ${seed}`;

/** Headings of the columns, and what they mean for whoever rests on one. */
export const columnWords: Readonly<Record<Column, { readonly name: string; readonly means: string }>> = {
  number: { name: 'Take', means: 'In the order in which they were drawn' },
  low: { name: 'Where the hand is', means: 'By the share of the time in the low region' },
  bare: { name: 'Bare shifts', means: 'Shifts between two stopped notes' },
  covered: { name: 'Covered', means: 'Shifts while an open string rings, or in a rest' },
  stay: { name: 'Longest stay', means: 'Stopped notes in a row in one region' },
  hardest: { name: 'Hardest move', means: 'By what it takes of the time there is' },
  roots: { name: 'Roots', means: 'Plain or bold: roots, of the notes on which a chord or a section begins' },
  steps: { name: 'Steps', means: 'Steps or leaps: semitones and tones, of the ways from note to note' },
  outside: {
    name: 'Outside',
    means: 'Inside or outside: notes outside chord and scale, of those between the targets',
  },
  highest: { name: 'Highest', means: 'The highest note' },
};

/** Short, as they stand under a bar. */
export const regionShort: Readonly<Record<Region | 'open', string>> = {
  low: 'low',
  middle: 'middle',
  'neck block': 'block',
  octave: 'octave',
  open: 'open',
};

const sieves: Readonly<
  Record<SieveName, { readonly name: string; readonly all: string; readonly of: (value: number) => string }>
> = {
  low: { name: 'Low region at most', all: 'any share', of: percent },
  stay: { name: 'Longest stay at most', all: 'any length', of: beats },
  bare: {
    name: 'Bare shifts at most',
    all: 'any number',
    of: (count) => (count === 0 ? 'none' : String(count)),
  },
};

const troubles: Readonly<Record<DrawTrouble, string>> = {
  'no line':
    'No line can be had with the limits and pins of the study. Close this page to see what stands in the way.',
  broke: 'The computation broke. What was drawn before is still here.',
};

/** "roots 62 %, steps 48 %, outside 4 %" */
const walkText = ({ roots, steps, outside }: Walk): string =>
  `roots ${percent(roots)}, steps ${percent(steps)}, outside ${percent(outside)}`;

const wishesText = (wishes: WalkWishes): string =>
  (['bold', 'leaps', 'outside'] as const)
    .map((name) => `${sliders[name].label.toLowerCase()}: ${wishInWords(name, wishes[name], 0)}`)
    .join('; ');

export const words = {
  title: 'Auditions',
  hint: 'Other takes of this study, drawn beside it. The study stays as it is until you use one of them.',
  best: 'The study asks for the one best line. These are drawn with variety, as people play.',
  more: 'Ten more',
  stop: 'Stop drawing',
  anew: 'Draw takes for it',
  drawing: (done: number, of: number): string => `Drawing: ${done} of ${of}`,
  drawingName: 'Drawing takes',
  full: (most: number): string => `${most} takes are as many as are held at a time.`,
  stale: 'The study has changed since these takes were drawn.',
  trouble: (trouble: DrawTrouble): string => troubles[trouble],
  sieves,
  sieveGroup: 'Show only takes with',
  lift: 'Show all',
  count: (seen: number, all: number): string => `${seen} of ${all}`,
  countNamed: (seen: number, all: number): string => `${seen} of ${all} takes shown`,
  none: 'No take keeps within these limits. Draw more, or allow more.',
  table: 'Takes',
  acts: 'What to do with it',
  meanings: 'What the figures mean',
  percent,
  hear: 'Hear',
  hush: 'Stop',
  keep: 'Keep',
  kept: 'Kept',
  use: 'Use this take',
  used: 'In use',
  like: 'More like this',
  compare: 'Compare',
  of: (act: string, seed: number): string => `${act}: take ${seed}`,
  compareTwo: (mine: number, other: number): string => `Compare takes ${mine} and ${other} on the sheet`,
  compareHow: 'Tick two takes to lay them over each other on the sheet.',
  isUsed: (seed: number): string => `Take ${seed} is the study’s take now.`,
  undo: 'Undo',
  asked: (seed: number, walk: Walk, wishes: WalkWishes): string =>
    `Asked for, to come nearer take ${seed} (${walkText(walk)}): ${wishesText(wishes)}.`,
} as const;

/** Over the sheet, while two takes lie on it. */
export const head = {
  name: 'Two takes',
  says: (mine: number, other: number): string => `Take ${mine} is on the sheet, take ${other} laid over it.`,
  swap: (other: number): string => `Take ${other} on the sheet`,
  use: (mine: number): string => `Use take ${mine}`,
  back: 'Back to the auditions',
  leave: 'Back to the study’s line',
} as const;
