import { describe, expect, it, test } from 'vitest';
import { displayChord, makeChord, spokenNote, noteName } from '../../../src/music';

describe('displayChord', () => {
  // Only the accidentals of a chord become signs; the b of "sub" or the o of "no" never do.
  test.each([
    ['Bb7(b9)', 'B♭7♭9', 'B flat 7 flat 9'],
    ['F#m7b5/A', 'F♯m7♭5/A', 'F sharp minor 7 flat 5 over A'],
    ['Cmaj7', 'Cmaj7', 'C major 7'],
    ['C', 'C', 'C major'],
    ['Cm', 'Cm', 'C minor'],
    ['CmMaj9', 'CmMaj9', 'C minor major 9'],
    ['C7#9b13', 'C7(♯9, ♭13)', 'C 7 sharp 9 flat 13'],
    ['C7sus4b9', 'C7sus4♭9', 'C 7 suspended 4 flat 9'],
    ['Csus24', 'Csus24', 'C suspended 2 4'],
    ['C(b5)', 'C(♭5)', 'C major flat 5'],
    ['Cadd9', 'Cadd9', 'C add 9'],
    ['C7no5', 'C7(no5)', 'C 7 no 5'],
    ['C69', 'C69', 'C 6 9'],
    ['C5', 'C5', 'C power chord'],
    ['C7alt', 'C7alt', 'C 7 altered'],
    ['Cdim7', 'Cdim7', 'C diminished 7'],
    ['Bbb7', 'B𝄫7', 'B double flat 7'],
  ])('%s is set as %s', (symbol, text, spoken) => {
    expect(displayChord(makeChord(symbol))).toMatchObject({ text, spoken });
  });

  it('keeps the parts apart', () => {
    expect(displayChord(makeChord('Eb-7b5/Bbb'))).toEqual({
      root: { letter: 'E', accidental: '♭' },
      quality: 'm',
      extension: '7♭5',
      bass: { letter: 'B', accidental: '𝄫' },
      text: 'E♭m7♭5/B𝄫',
      spoken: 'E flat minor 7 flat 5 over B double flat',
    });
  });

  it('names notes', () => {
    expect(['C', 'Bb', 'F##'].map((name) => spokenNote(noteName(name)))).toEqual([
      'C',
      'B flat',
      'F double sharp',
    ]);
  });
});
