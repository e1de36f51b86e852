// Random charts and chart-like texts for property tests.
import fc from 'fast-check';

const symbols = [
  'F7',
  'Bb7',
  'Cm7',
  'Am7b5',
  'D7b9',
  'Bdim7',
  'Ebmaj7',
  'C7sus4',
  'G7/B',
  'C6/9',
  'F#m7',
  'N.C.',
];
const symbol = fc.constantFrom(...symbols);
const chord = fc.oneof(
  { weight: 8, arbitrary: symbol },
  { weight: 1, arbitrary: symbol.map((text) => `(${text})`) },
  { weight: 1, arbitrary: symbol.map((text) => `${text}{lydian dominant}`) },
  { weight: 1, arbitrary: symbol.map((text) => `${text} {alt}`) },
  { weight: 1, arbitrary: fc.tuple(symbol, symbol).map(([one, other]) => `${one};${other}`) },
);
const cell = fc.oneof(
  { weight: 6, arbitrary: fc.array(chord, { minLength: 1, maxLength: 4 }).map((chords) => chords.join(' ')) },
  {
    weight: 3,
    arbitrary: fc
      .array(fc.tuple(chord, fc.constantFrom('', ' /', ' / /', ' .', ' /.')), { minLength: 1, maxLength: 3 })
      .map((places) => places.map((place) => place.join('')).join(' ')),
  },
  { weight: 1, arbitrary: fc.constantFrom('%', '%%', '/ / / /', '') },
);
const ahead = fc.constantFrom(
  '',
  '',
  '',
  '',
  '',
  '{3/4}',
  '{4/4}',
  '{6/8}',
  '{Key: Eb}',
  '{Key: C minor}',
  'segno',
  'coda',
);
const after = fc.constantFrom(
  '',
  '',
  '',
  '',
  '',
  '',
  'Fine',
  'To Coda',
  'D.C. al Fine',
  'D.S. al Coda',
  'D.S.',
);
const line = fc.constantFrom(
  '|',
  '|',
  '|',
  '|',
  '||',
  '|:',
  ':|',
  '::',
  ':|2',
  '|1',
  '|1,3',
  ':| x3 |',
  '|\n|',
  '|\n[B] |',
);
const header = fc
  .record({
    title: fc.constantFrom('', 'Title: Some Study\n'),
    key: fc.constantFrom('', 'Key: F\n', 'Key: Bb minor\n', 'Key: D dorian\n'),
    meter: fc.constantFrom(
      '',
      'Meter: 3/4\n',
      'Meter: 5/4\n',
      'Meter: 12/8\n',
      'Meter: 2/2\n',
      'Meter: 7/8\n',
    ),
    tempo: fc.constantFrom('', 'Tempo: 132\n', 'Tempo: 54.5\n'),
    feel: fc.constantFrom('', 'Feel: two-feel\n', 'Feel: bossa\n', 'Feel: waltz\n'),
    form: fc.constantFrom('', '', '', 'Form: A B A\n'),
  })
  .map((fields) => Object.values(fields).join(''));

/** Text that is mostly a sensible chart, with every sign we know. */
export const chartText: fc.Arbitrary<string> = fc
  .tuple(
    header,
    fc.constantFrom('', '[A]\n', '[Intro] ', '{pickup} '),
    fc.array(fc.tuple(ahead, cell, after, line), { minLength: 1, maxLength: 24 }),
  )
  .map(([top, start, bars]) => `${top}\n${start}| ${bars.map((bar) => bar.join(' ')).join(' ')}\n`);

const piece = fc.oneof(
  fc.constantFrom(
    '|',
    ':',
    '||',
    '|:',
    ':|',
    '::',
    '[',
    ']',
    '{',
    '}',
    '(',
    ')',
    ';',
    '/',
    '.',
    '%',
    '%%',
    '#',
    ',',
    '-',
    '\n',
    '\r',
    ' ',
    '\t',
  ),
  fc.constantFrom(
    '1',
    '2',
    '1-3',
    '1,',
    'x3',
    '3 times',
    'A',
    'B',
    'Intro',
    'Title:',
    'Key:',
    'Form:',
    'AABA',
    'P:',
    'Meter: 3/4',
  ),
  fc.constantFrom(
    'C',
    'F7',
    'b9',
    'maj7',
    'over',
    'N.C.',
    'Fine',
    'D.C.',
    'D.S.',
    'al',
    'Coda',
    'To',
    'segno',
    '𝄋',
    '𝄌',
    '𝄆',
    '𝄇',
  ),
  fc.string({ unit: 'binary', maxLength: 3 }),
);

/** Nonsense made of our signs and of every character of Unicode. */
export const nonsense: fc.Arbitrary<string> = fc
  .array(piece, { maxLength: 40 })
  .map((pieces) => pieces.join(''));

/** The same in a line or two, for a great many of them. */
export const shortNonsense: fc.Arbitrary<string> = fc
  .array(piece, { maxLength: 12 })
  .map((pieces) => pieces.join(''));
