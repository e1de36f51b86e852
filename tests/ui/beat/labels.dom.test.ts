// Both labels of a note in words.
import { describe, expect, it } from 'vitest';
import { labelsOf } from '../../../src/pipeline';
import { labelsText } from '../../../src/ui/beat/words';
import { played, timelineOf } from '../../pipeline/5-line/devices/made';

const textsOf = (chart: string, ...pitches: number[]): string[] =>
  labelsOf(played(timelineOf(chart), pitches)).map(labelsText);

describe('labels in words', () => {
  it('are the degree with its quality, then what the note does', () => {
    expect(textsOf('| Cm7 | F7 |', 36, 39, 43, 40, 41)).toEqual([
      'root',
      'minor third',
      'fifth; enclosure, above first',
      'outside, major third; enclosure, above first, semitone below',
      'root',
    ]);
  });

  it('say what a slash bass and a scale step are over the root', () => {
    expect(textsOf('| F/A | Bb |', 33, 36, 38, 41)[0]).toBe('bass, major third');
    expect(textsOf('| C7 | F7 |', 36, 38, 40, 43)[1]).toBe('scale step, ninth; passing note');
  });
});
