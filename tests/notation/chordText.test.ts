// Chord symbols as they are set.
import { describe, expect, it } from 'vitest';
import { makeChord } from '../../src/music';
import { chordRuns, chordWidth } from '../../src/notation/chordText';

const set = (symbol: string): string =>
  chordRuns(makeChord(symbol))
    .map(({ text, raised }) => (raised ? `^${text}^` : text))
    .join('');

describe('chord symbols', () => {
  it.each([
    ['Bb', 'B♭'],
    ['Bb7(b9)', 'B♭^7♭9^'],
    ['F#m7b5', 'F♯m^7♭5^'],
    ['Abmaj7#11/C', 'A♭^maj7♯11^/C'],
    ['Cm(maj7)', 'Cm^Maj7^'],
    ['Bdim7', 'Bdim^7^'],
    ['Gaug', 'Gaug'],
    ['Dsus4', 'D^sus4^'],
    ['C7/Bb', 'C^7^/B♭'],
    ['C6/9', 'C^6/9^'],
    ['Eb69', 'E♭^6/9^'],
    ['Bbadd9', 'B♭^add9^'],
  ])('%s', (symbol, expected) => {
    expect(set(symbol)).toBe(expected);
  });

  it('typeset accidentals where the symbol has them and nowhere else', () => {
    expect(set('Bbsus4')).toBe('B♭^sus4^');
    expect(set('Db7sus4b9')).toBe('D♭^7sus4♭9^');
  });

  it('leave the chord as it was read', () => {
    const chord = makeChord('Bb7(b9)');
    chordRuns(chord);
    expect(chord.typed).toBe('Bb7(b9)');
    expect(chord.symbol).not.toContain('♭');
  });

  it('say N.C. where the bass rests', () => {
    expect(chordRuns(null)).toEqual([{ text: 'N.C.', raised: false }]);
  });

  it('grow in width with their letters and their size', () => {
    const short = chordRuns(makeChord('C7'));
    const long = chordRuns(makeChord('Abmaj7#11/C'));
    expect(chordWidth(long, 20)).toBeGreaterThan(chordWidth(short, 20));
    expect(chordWidth(short, 20)).toBeCloseTo(2 * chordWidth(short, 10), 6);
  });
});
