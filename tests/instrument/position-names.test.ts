// What positions are called, in numerals, notes and other schools' names, and which text means one.
import { describe, expect, it } from 'vitest';
import {
  defaultInstrument,
  handPosition,
  namedPosition,
  namedPositions,
  parsePosition,
  positionName,
  regionOf,
  shortNamedPosition,
  shortPositionName,
  type HandPosition,
} from '../../src/instrument';

const offTheBoard = -2 as HandPosition;

describe('a position', () => {
  it('is a whole number of semitones from 1 to 36', () => {
    expect([handPosition(1), handPosition(36)]).toEqual([1, 36]);
    for (const wrong of [0, 37, 2.5, Number.NaN]) expect(() => handPosition(wrong)).toThrow(RangeError);
  });

  it('has a name of its own up to the octave, and one by the thumb above it', () => {
    expect(namedPositions).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
    expect([1, 6, 12, 13].map((one) => positionName(handPosition(one)))).toEqual([
      'half',
      'III½',
      'VII',
      'thumb 11',
    ]);
    expect([1, 6, 12, 13].map((one) => shortPositionName(handPosition(one)))).toEqual([
      'half',
      'III½',
      'VII',
      'T11',
    ]);
    expect([positionName(offTheBoard), shortPositionName(offTheBoard)]).toEqual(['extension', 'ext.']);
  });

  it('off the board belongs to the low region', () => {
    expect(regionOf(offTheBoard)).toBe('low');
    expect([1, 2, 13].map((one) => regionOf(handPosition(one)))).toEqual(['low', 'low', 'octave']);
  });
});

describe('text', () => {
  it.each([
    ['half', 1],
    ['½', 1],
    [' I ', 2],
    ['iii½', 6],
    ['II 1/2', 4],
    ['II1/2', 4],
    ['II   .5', 4],
    ['VII', 12],
    ['', undefined],
    ['   ', undefined],
    ['VIII', undefined],
    ['1/2 I', undefined],
    ['I.5I', undefined],
  ])('%j means position %s', (text, position) => {
    expect(parsePosition(text)).toBe(position);
  });
});

describe('positions in the names of other schools (from memory)', () => {
  it('lie between two whole-numbered ones, the rest as usual', () => {
    const names = [1, 2, 4, 6, 8, 9, 11, 12, 13].map((one) =>
      namedPosition(defaultInstrument, handPosition(one), 'intermediate'),
    );
    expect(names).toEqual(['half', 'I', 'II–III', 'III–IV', 'V', 'V–VI', 'VI–VII', 'VII', 'thumb 11']);
  });

  it('are notes, or both, in whichever way notes are called', () => {
    const called = (naming: 'first-finger note' | 'both') =>
      namedPosition(defaultInstrument, handPosition(6), naming, (note) => note.toLowerCase());
    expect([called('first-finger note'), called('both')]).toEqual(['d♭', 'III½ (d♭)']);
    expect(namedPosition(defaultInstrument, offTheBoard, 'both')).toBe('extension');
  });

  it('are short on the page, a note where notes are asked for', () => {
    expect(shortNamedPosition(defaultInstrument, handPosition(1), 'both')).toBe('half');
    expect(shortNamedPosition(defaultInstrument, handPosition(6), 'first-finger note')).toBe('D♭');
    expect(shortNamedPosition(defaultInstrument, offTheBoard, 'first-finger note')).toBe('ext.');
  });
});
