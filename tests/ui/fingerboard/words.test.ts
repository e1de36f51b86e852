import { describe, expect, it } from 'vitest';
import { defaultInstrument, positionName } from '../../../src/instrument';
import { beatText, boardLabel, pitchText, spokenPitch } from '../../../src/ui/fingerboard/words';
import { madeLine } from './made-line';

describe('the words', () => {
  it('name a note for the eye and for the ear', () => {
    expect(pitchText(madeLine.notes[0]!.pitch)).toBe('B♭1');
    expect(spokenPitch(madeLine.notes[0]!.pitch)).toBe('B flat 1');
    expect(pitchText(madeLine.notes[14]!.pitch)).toBe('F♯2');
  });

  it('name beats as players do', () => {
    expect([1, 2.5, 2 + 2 / 3].map(beatText)).toEqual(['beat 1', 'the and of 2', 'beat 2.67']);
  });

  it.each([
    [6, 'Bar 2, beat 3, D 2, open string D, hand going from V½ to IV'],
    [0, 'Bar 1, beat 1, B flat 1, string E, 1st finger, hand starting in III½'],
    [1, 'Bar 1, beat 2, C 2, string E, 4th finger, hand staying in III½'],
    [5, 'Bar 2, beat 2, A flat 2, string A, 4th finger, hand shifted from thumb 11 to V½'],
  ])('say what note %i does', (index, label) => {
    expect(boardLabel(madeLine.notes[index]!, defaultInstrument, positionName)).toBe(label);
  });
});
