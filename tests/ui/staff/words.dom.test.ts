// What the staff says.
import { describe, expect, it } from 'vitest';
import { defaultInstrument, positionName } from '../../../src/instrument';
import { makeChord, noteName } from '../../../src/music';
import { noteLabel, spokenChord, spokenName, timelineInWords } from '../../../src/ui/staff/words';
import { makeLine, makeTimeline } from '../../notation/made';

describe('chords in words', () => {
  it.each([
    ['Dm7', 'D minor 7'],
    ['Bbm7b5', 'B flat minor 7 flat 5'],
    ['C7/E', 'C 7 over E'],
    ['F#maj7#11', 'F sharp major 7 sharp 11'],
    ['Cm(maj7)', 'C minor, major seventh'],
    ['Bdim7', 'B diminished 7'],
    ['G7sus4b9', 'G 7 suspended 4 flat 9'],
    ['A7alt', 'A 7 altered'],
    ['Gaug', 'G augmented'],
    ['Eb6/9', 'E flat six nine'],
    ['Bb', 'B flat'],
  ])('%s', (symbol, expected) => {
    expect(spokenChord(makeChord(symbol))).toBe(expected);
  });

  it('says no chord for N.C.', () => {
    expect(spokenChord(null)).toBe('no chord');
  });
});

describe('notes in words', () => {
  const timeline = makeTimeline([{ chords: ['Dm7'], section: 'A' }, { chords: ['-'] }]);
  const line = makeLine(timeline, [
    { pitch: 'D2', string: 2, finger: '0', position: 1 },
    { pitch: 'F2', string: 2, finger: '2', position: 2, role: 'third' },
    { pitch: 'Bb1', string: 3, finger: '1', position: 1 },
    { pitch: 'G2', string: 1, finger: '0', position: 7, carriedFrom: 1, role: 'open string passing' },
  ]);

  it('reads bar by bar: chord, notes, and how they are held', () => {
    expect(timelineInWords(timeline, line, defaultInstrument, positionName)).toEqual([
      'A. Bar 1, D minor 7: D, string D open; F, finger 2, string D, in I; ' +
        'B flat, finger 1, string A, in half; G, string G open, hand going from half to IV.',
      'Bar 2, no chord: rest.',
    ]);
  });

  it('tells everything about one beat', () => {
    expect(noteLabel(line.notes[1]!, defaultInstrument, positionName)).toBe(
      'Bar 1, beat 2: F 2, finger 2, string D, in I; third, over D minor 7',
    );
    expect(
      noteLabel(line.notes[3]!, defaultInstrument, positionName, { choices: 1.24, isBoxedIn: true }),
    ).toContain('; 1.2 good choices a beat, boxed in');
  });

  it('says accidentals', () => {
    expect(['Bb', 'F#', 'Cbb', 'G##', 'A'].map((name) => spokenName(noteName(name)))).toEqual([
      'B flat',
      'F sharp',
      'C double flat',
      'G double sharp',
      'A',
    ]);
  });
});
