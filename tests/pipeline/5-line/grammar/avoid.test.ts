// Notes that deny a chord on a strong beat: common practice, no source.
import { describe, expect, it } from 'vitest';
import type { SoundingMidi } from '../../../../src/music';
import { readChart } from '../../../../src/pipeline/1-chart';
import { makeTimeline, type TimelineChord } from '../../../../src/pipeline/2-timeline';
import { deniesChord } from '../../../../src/pipeline/5-line/grammar';

const harmonyOf = (symbol: string): TimelineChord =>
  makeTimeline(readChart(symbol).chart, { choruses: 1, tempo: null }).timeline!.slots[0]!.harmony;

/** Semitones above C that deny a chord on C. */
const deniedBy = (symbol: string): number[] => {
  const harmony = harmonyOf(symbol);
  return Array.from({ length: 12 }, (_, above) => above).filter((above) =>
    deniesChord(harmony, (36 + above) as SoundingMidi),
  );
};

describe('deniesChord', () => {
  it.each<readonly [string, readonly number[]]>([
    // A semitone above the root; the minor third and the fourth against the major third; the other seventh.
    ['C7', [1, 3, 5, 11]],
    ['Cmaj7', [1, 3, 5, 10]],
    ['C6', [1, 3, 5]],
    ['Cm7', [1, 4, 11]],
    ['Cm6', [1, 4]],
    // The natural fifth against the lowered one.
    ['Cm7b5', [1, 4, 7, 11]],
    ['Cdim7', [1, 4, 7]],
    // The third under a suspension.
    ['C7sus4', [1, 4, 11]],
    // A raised eleventh leaves the fifth; the fourth stays denied.
    ['C7#11', [1, 3, 5, 11]],
    // Altered ninths are the chord's own, and deny the natural one.
    ['C7b9', [2, 3, 5, 11]],
    ['C7#9', [1, 2, 5, 11]],
    // Altered fifths deny the natural one.
    ['C7#5', [1, 3, 5, 7, 11]],
    ['C7b5', [1, 3, 5, 7, 11]],
    // All altered fifths and ninths are an altered dominant's own.
    ['C7alt', [2, 5, 7, 11]],
    // The bass asked for is never denied.
    ['C/F', [1, 3]],
  ])('%s: %j semitones above C', (symbol, expected) => expect(deniedBy(symbol)).toEqual(expected));

  it.each(['C7alt', 'C7b9b5', 'C7#9#5', 'C7#9b5', 'C7b9#5'])(
    '%s: neither the natural fifth nor the natural ninth',
    (symbol) => {
      expect(deniedBy(symbol)).toEqual(expect.arrayContaining([2, 7]));
      expect(deniedBy(symbol)).not.toContain(0);
      expect(deniedBy(symbol)).not.toContain(4);
      expect(deniedBy(symbol)).not.toContain(10);
    },
  );

  it('is the same in every octave and moves with the root', () => {
    const harmony = harmonyOf('Eb7');
    for (const octave of [24, 36, 48]) {
      expect(deniesChord(harmony, (octave + 8) as SoundingMidi)).toBe(true);
      expect(deniesChord(harmony, (octave + 10) as SoundingMidi)).toBe(false);
    }
  });
});
