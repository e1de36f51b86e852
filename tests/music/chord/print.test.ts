import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { makeChord, parseChord, printChord, type Chord } from '../../../src/music';

const content = ({ root, bass, family, tones, colours, isAltered, symbol }: Chord): unknown => ({
  root,
  bass,
  family,
  tones,
  colours,
  isAltered,
  symbol,
});

describe('printChord', () => {
  test.each([
    ['CMA7', 'Cmaj7'],
    ['C-Δ7', 'CmMaj7'],
    ['C13(no5)', 'C13no5'],
    ['C9#11b13', 'C9#11b13'],
    ['C7#9#5', 'C7#5#9'],
    ['C6/9', 'C69'],
    ['C+', 'Caug'],
    ['C(b5)', 'C(b5)'],
    ['C-5', 'C(b5)'],
    ['Cmb6', 'Cmb6'],
    ['C7sus(13)', 'C7sus4add13'],
    ['Csus4add9', 'Csus24'],
    ['C°7(maj7)', 'Cdim7add#7'],
    ['Cphryg', 'C7sus4b9'],
    ['Clyd', 'Cmaj7#11'],
    ['C7(b9,13)', 'C13b9'],
    ['Abb(9)', 'Abbadd9'],
    ['Abbno3', 'Abbno3'],
  ])('writes %s as %s', (typed, symbol) => expect(printChord(makeChord(typed))).toBe(symbol));
});

const root = fc
  .tuple(fc.constantFrom(...'ABCDEFG'), fc.constantFrom('', '', 'b', '#', 'bb', '##'))
  .map((parts) => parts.join(''));
const bass = fc.option(root, { freq: 3 });
/** Spellings of one thing. */
const spellings: Readonly<Record<string, readonly string[]>> = {
  major: [''],
  minor: ['m', 'min', 'mi', '-', 'MIN', ' minor '],
  majorSeventh: ['maj7', 'ma7', 'M7', '^7', 'Δ7', 'Maj7'],
  minorMajor: ['m(maj7)', '-Δ7', 'mM7', 'min(ma7)', 'm#7'],
  dominant: ['7', 'dom7'],
  minorSeventh: ['m7', '-7', 'mi7', 'min7'],
  halfDiminished: ['m7b5', 'ø', 'ø7', '-7(b5)', 'mi7b5'],
  diminished: ['dim7', '°7', 'o7'],
  suspended: ['7sus4', '7sus', 'sus7', '7(sus4)', '7 sus'],
  thirteenth: ['13', 'dom13'],
};
const alterations = ['b5', '#5', 'b9', '#9', '#11', 'b13'];
/** One chord in two stylings: words, order of alterations, brackets and signs chosen anew. */
const twoStylings = fc
  .record({
    root: fc.constantFrom('C', 'Bb', 'F#', 'Eb', 'A'),
    kind: fc.constantFrom(...Object.keys(spellings)),
    altered: fc.uniqueArray(fc.constantFrom(...alterations), { maxLength: 3 }),
    bass,
  })
  .chain((chord) => {
    const styling = fc
      .record({
        word: fc.constantFrom(...spellings[chord.kind]!),
        order: fc.shuffledSubarray(chord.altered, { minLength: chord.altered.length }),
        style: fc.constantFrom('bare', 'brackets', 'one bracket', 'commas', 'signs'),
      })
      .map(({ word, order, style }) => {
        const tensions = {
          bare: `${order.join('')}`,
          brackets: order.map((part) => `(${part})`).join(''),
          'one bracket': `(${order.join(' ')})`,
          commas: `(${order.join(', ')})`,
          signs: order.join('').replaceAll('b', '♭').replaceAll('#', '♯'),
        }[style];
        const isBare = word === '' && (style === 'bare' || style === 'signs');
        const written = order.length === 0 ? '' : isBare ? `(${tensions})` : tensions;
        return `${chord.root}${word}${written}${chord.bass === null ? '' : `/${chord.bass}`}`;
      });
    return fc.tuple(styling, styling);
  });

/** Any pieces in any order: what is read must be printed so that it is read again. */
const anyPieces = fc
  .tuple(
    root,
    fc.constantFrom('', 'm', 'maj', 'dim', 'aug', 'ø', 'sus4', 'sus2', '5', 'mMaj', 'sus24'),
    fc.constantFrom('', '', '6', '7', '9', '11', '13', '69'),
    fc.array(
      fc.constantFrom(
        ...alterations,
        'add9',
        'add11',
        'add#11',
        'add13',
        'no3',
        'no5',
        '(maj7)',
        'sus4',
        'sus2',
        'alt',
      ),
      { maxLength: 4 },
    ),
    bass,
  )
  .map(([name, quality, number, parts, slash]) =>
    [name, quality, number, ...parts, slash === null ? '' : `/${slash}`].join(''),
  );

describe('round trips', () => {
  it('one chord in two stylings is one chord', () => {
    fc.assert(
      fc.property(twoStylings, ([first, second]) => {
        expect(makeChord(first).symbol, `${first} and ${second}`).toBe(makeChord(second).symbol);
      }),
      { numRuns: 2000, seed: 21 },
    );
  });

  it('what is printed is read back as the same chord', () => {
    let read = 0;
    fc.assert(
      fc.property(anyPieces, (symbol) => {
        const reading = parseChord(symbol);
        if (reading.kind !== 'chord') return;
        read += 1;
        expect(content(makeChord(printChord(reading.chord))), symbol).toEqual(content(reading.chord));
      }),
      { numRuns: 6000, seed: 22 },
    );
    expect(read).toBeGreaterThan(3000);
  });

  it('root, tones and bass are consistent', () => {
    fc.assert(
      fc.property(anyPieces, (symbol) => {
        const reading = parseChord(symbol);
        if (reading.kind !== 'chord') return;
        const { chord } = reading;
        expect(chord.tones[0]).toMatchObject({ interval: '1P', degree: 1, note: chord.root });
        expect(new Set(chord.tones.map((tone) => tone.interval)).size).toBe(chord.tones.length);
        expect(chord.bass).not.toBe(chord.root);
      }),
      { numRuns: 1000, seed: 23 },
    );
  });
});
