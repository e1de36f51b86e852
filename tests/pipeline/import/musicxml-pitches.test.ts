// Pitches of MusicXML: from the lowest to the highest, and moved as transposing instruments are. Source: W3C MusicXML 4.0.
import { describe, expect, it } from 'vitest';
import type { NoteName } from '../../../src/music';
import { importText } from '../../../src/pipeline/1-chart/import';
import { movedName } from '../../../src/pipeline/1-chart/import/musicxml-notes';
import { attributes, clef, listed, placed, score } from './score';

describe('pitches', () => {
  it('has pitches from the lowest to the highest of MIDI', () => {
    const sounds = (step: string, octave: string, alter = ''): number[][] =>
      placed(
        importText(
          score([
            {
              listed,
              measures: [
                `${attributes(clef)}<note><pitch><step>${step}</step>${alter}<octave>${octave}</octave></pitch><duration>8</duration></note>`,
              ],
            },
          ]),
        ),
      );
    expect(sounds('C', '-1')).toEqual([[0, 0, 1920, 0]]);
    expect(sounds('B', '-2')).toEqual([]);
    expect(sounds('G', '9')).toEqual([[0, 0, 1920, 127]]);
    expect(sounds('A', '9')).toEqual([]);
    expect(sounds('C', '3.5')).toEqual([]);
    // Quarter tones are played as the nearest note of the scale.
    expect(sounds('C', '3', '<alter>0.4</alter>')).toEqual([[0, 0, 1920, 48]]);
    expect(sounds('C', '3', '<alter>-1</alter>')).toEqual([[0, 0, 1920, 47]]);
  });

  // Intervals of transposing instruments, by the names of the scale (common practice, no source).
  it.each([
    ['D', -1, -2, 'C'],
    ['F#', -1, -2, 'E'],
    ['Eb', -1, -2, 'Db'],
    ['C', -1, -2, 'Bb'],
    ['C', -1, -1, 'B'],
    ['B', 1, 1, 'C'],
    ['C', 0, 1, 'C#'],
    ['C', 1, 1, 'Db'],
    ['E', 4, 7, 'B'],
    ['F', -3, -5, 'C'],
    ['Gb', -2, -3, 'Eb'],
    ['A#', -1, -2, 'G#'],
    ['Fb', -1, -2, 'Ebb'],
    ['C', -5, -9, 'Eb'],
    ['C', -8, -2, 'Bb'],
    ['F#', 0, 0, 'F#'],
    // What would need three accidentals gets another name.
    ['B##', 1, 2, 'Eb'],
  ])('%s moved by %i steps and %i semitones is %s', (name, diatonic, chromatic, moved) =>
    expect(movedName(name as NoteName, { diatonic, chromatic, octaves: 0 })).toBe(moved),
  );
});
