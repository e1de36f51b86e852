import { describe, expect, it } from 'vitest';
import {
  allPlacements,
  barredFor,
  defaultHand,
  defaultInstrument,
  findLivingPlace,
  fingersIn,
  handPosition,
  isHoldable,
  liesIn,
  livingPlaces,
  lowestWithin,
  makeHand,
  spanFromComfort,
  spanShares,
  wayIds,
  ways,
  type Hand,
  type WayId,
} from '../../src/instrument';

const handWith = (id: WayId, from?: number): Hand => ({
  ...defaultHand,
  way: from === undefined ? { id } : { id, from: handPosition(from) },
});
/** "1+0 2+1 4+2": every finger with its semitones above the first. */
const shape = (hand: Hand, position: number): string =>
  fingersIn(defaultInstrument, hand, handPosition(position))
    .map(({ finger, offset }) => `${finger}+${offset}`)
    .join(' ');

describe('ways of fingering', () => {
  it('are all in the data, each with words for the player', () => {
    expect(ways.map((way) => way.id)).toEqual([...wayIds]);
    for (const way of ways) expect(way.words.length).toBeGreaterThan(5);
  });

  it.each([
    // Teaching literature: 1-2-4 a whole tone; 3 replaces 4 from the octave up.
    ['1-2-4', undefined, 1, '1+0 2+1 4+2'],
    ['1-2-4', undefined, 8, '1+0 2+1 4+2'],
    ['1-2-4', undefined, 12, '1+0 2+1 3+2'],
    ['1-2-4', undefined, 14, '1+0 2+1 3+2 T+-2'],
    ['1-2-4 stretched', undefined, 3, '1+0 2+1 4+2'],
    ['1-2-4 stretched', undefined, 5, '1+0 2+1 4+2 3+2 4+3'],
    ['1-2-3-4', undefined, 4, '1+0 2+1 4+2'],
    ['1-2-3-4', undefined, 5, '1+0 2+1 3+2 4+3'],
    ['1-2-3-4', 7, 6, '1+0 2+1 4+2'],
    ['1-2-3-4', 7, 7, '1+0 2+1 3+2 4+3'],
    // A finger a semitone is asked for where this hand cannot reach it: 1-2-4 stays.
    ['1-2-3-4', 1, 1, '1+0 2+1 4+2'],
    ['3 for 4', undefined, 8, '1+0 2+1 4+2'],
    ['3 for 4', undefined, 9, '1+0 2+1 3+2'],
    ['thumb', undefined, 9, '1+0 2+1 4+2 3+2 4+3'],
    ['thumb', undefined, 12, '1+0 2+1 3+2 T+-2'],
    // The thumb comes up no later than at the octave, whatever is asked for.
    ['thumb', 30, 14, '1+0 2+1 3+2 T+-2'],
    ['1-3-4', undefined, 4, '1+0 3+1 4+2'],
  ] as const)('%s (from %s) puts down in position %d: %s', (id, from, position, fingers) => {
    expect(shape(handWith(id, from), position)).toBe(fingers);
  });

  it('are the default where a hand names none', () => {
    for (let position = 1; position <= 14; position++)
      expect(shape(defaultHand, position)).toBe(shape(handWith('1-2-4 stretched'), position));
  });

  it('make placements that this hand can hold, and no way leaves a note of the board out', () => {
    const range = { highestPosition: 12 };
    const pitches = (hand: Hand): number[] =>
      [...new Set(allPlacements(defaultInstrument, hand, range).map((one) => one.midi as number))].sort(
        (a, b) => a - b,
      );
    for (const id of wayIds) {
      const hand = handWith(id);
      for (const one of allPlacements(defaultInstrument, hand, range))
        expect(isHoldable(defaultInstrument, hand, one)).toBe(true);
      expect(pitches(hand)).toEqual(pitches(defaultHand));
    }
  });
});

describe('a span from what is comfortable', () => {
  it('is the span whose lowest comfortable place that is, for a whole tone and a minor third', () => {
    for (const width of [2, 3]) {
      for (let semitone = 1; semitone <= 11; semitone++) {
        const position = handPosition(semitone);
        const span = spanFromComfort(defaultInstrument, position, width);
        if (span <= 90 || span >= 230) continue;
        expect(lowestWithin(defaultInstrument, makeHand(span + 1e-9), width, spanShares.comfortable)).toBe(
          position,
        );
      }
    }
  });

  it('agrees with the figures: a tone at half position is 149.6 mm, a third at V 145.9 mm (computed from 0.73)', () => {
    expect(spanFromComfort(defaultInstrument, handPosition(1), 2)).toBeCloseTo(149.6, 0);
    expect(spanFromComfort(defaultInstrument, handPosition(8), 3)).toBeCloseTo(145.6, 0);
  });

  it('stays within the spans a player may enter', () => {
    expect(spanFromComfort(defaultInstrument, handPosition(1), 4)).toBe(230);
    expect(spanFromComfort(defaultInstrument, handPosition(12), 2)).toBe(90);
  });
});

describe('places to live', () => {
  const placements = allPlacements(defaultInstrument, defaultHand, { highestPosition: 14 });

  it('are the three of the trade, and all of the neck (common practice, no source)', () => {
    expect(livingPlaces.map((place) => place.id)).toEqual(['ladder', 'block', 'summit', 'roam']);
    expect(findLivingPlace('attic')).toBeUndefined();
  });

  it.each([
    ['ladder', { low: true, lowerStringUp: false, topStringUp: true, block: false, octave: false }],
    ['block', { low: false, lowerStringUp: true, topStringUp: true, block: true, octave: false }],
    ['summit', { low: false, lowerStringUp: false, topStringUp: false, block: false, octave: true }],
    ['roam', { low: true, lowerStringUp: true, topStringUp: true, block: true, octave: true }],
  ])('%s holds %j', (id, expected) => {
    const place = findLivingPlace(id)!;
    const has = (string: number, position: number): boolean =>
      placements.some(
        (one) =>
          one.finger === '1' && one.string === string && one.position === position && liesIn(place, one),
      );
    expect({
      low: has(4, 1),
      lowerStringUp: has(2, 6),
      topStringUp: has(1, 6),
      block: has(3, 8),
      octave: has(2, 12),
    }).toEqual(expected);
  });

  it('leave open strings free and every pitch class within reach', () => {
    for (const place of livingPlaces) {
      const inside = placements.filter((one) => liesIn(place, one));
      const open = inside.filter((one) => one.finger === '0');
      expect(new Set(open.map((one) => one.string)).size).toBe(4);
      // While one rings the hand stays where it lives.
      const lived = new Set(inside.filter((one) => one.finger !== '0').map((one) => one.position));
      for (const { position } of open) expect(lived).toContain(position);
      expect(new Set(inside.filter((one) => one.finger !== '0').map((one) => one.midi % 12)).size).toBe(12);
    }
  });

  it('bar the positions that no string has', () => {
    expect(barredFor(findLivingPlace('block')!, 12)).toEqual([1, 2, 3, 4, 11, 12]);
    expect(barredFor(findLivingPlace('ladder')!, 12)).toEqual([]);
  });
});
