import { describe, expect, it } from 'vitest';
import {
  allPlacements,
  armZoneOf,
  armZones,
  defaultHand,
  defaultInstrument,
  extensionPositions,
  findInstrument,
  frameSpan,
  handPosition,
  instruments,
  isHoldable,
  isOnExtension,
  lengthRange,
  lowestPitch,
  highestPitch,
  namedPosition,
  positionName,
  regionOf,
  stopInterval,
} from '../../src/instrument';

const bass = (id: string): (typeof instruments)[number] => findInstrument(id)!;
const range = { highestPosition: 12 };

describe('the basses we know', () => {
  it('have names of their own, lengths a player may enter, strings highest first', () => {
    expect(new Set(instruments.map((one) => one.id)).size).toBe(instruments.length);
    expect(new Set(instruments.map((one) => one.name)).size).toBe(instruments.length);
    for (const { length, strings } of instruments) {
      expect(length).toBeGreaterThanOrEqual(lengthRange.least);
      expect(length).toBeLessThanOrEqual(lengthRange.most);
      const open = strings.map((string) => string.open);
      expect(open).toEqual([...open].sort((a, b) => b - a));
      expect(strings.map((string) => string.number)).toEqual(strings.map((_, index) => index + 1));
    }
  });

  it.each([
    // Common practice, no source: tunings by the sounding pitch of each open string.
    ['bass-3/4', 'G D A E', 28],
    ['bass-low-b', 'G D A E B', 23],
    ['bass-low-c', 'G D A E C', 24],
    ['bass-high-c', 'C G D A E', 28],
    ['bass-solo', 'A E B F#', 30],
    ['bass-extension', 'G D A E', 24],
    ['electric-4', 'G D A E', 28],
    ['electric-5', 'G D A E B', 23],
  ])('%s is tuned %s and goes down to MIDI %d', (id, names, lowest) => {
    expect(
      bass(id)
        .strings.map((string) => string.name)
        .join(' '),
    ).toBe(names);
    expect(lowestPitch(bass(id))).toBe(lowest);
  });

  it('reach down to C1 with a low C string, a low B string and an extension, and not without', () => {
    const reaches = (id: string): boolean =>
      allPlacements(bass(id), defaultHand, range).some((one) => one.midi === 24);
    expect(['bass-low-c', 'bass-low-b', 'bass-extension', 'bass-3/4'].map(reaches)).toEqual([
      true,
      true,
      true,
      false,
    ]);
  });

  it('have placements of their own on every string, all of them holdable', () => {
    for (const instrument of instruments) {
      const all = allPlacements(instrument, defaultHand, range);
      expect(new Set(all.map((one) => one.string)).size).toBe(instrument.strings.length);
      all.forEach((one, index) => {
        expect(one.id).toBe(index);
        expect(isHoldable(instrument, defaultHand, one)).toBe(true);
        expect(one.midi).toBeLessThanOrEqual(highestPitch(instrument));
        expect(one.midi).toBeGreaterThanOrEqual(lowestPitch(instrument));
      });
    }
  });

  it('shrink every span with the string: 864 mm has 0.815 of what 1060 mm has', () => {
    for (let semitone = 1; semitone <= 12; semitone++) {
      const ratio =
        frameSpan(bass('electric-4'), handPosition(semitone), 2) /
        frameSpan(defaultInstrument, handPosition(semitone), 2);
      expect(ratio).toBeCloseTo(864 / 1060, 12);
    }
  });

  it('give an electric bass no thumb position and the default hand a finger a semitone from the first fret', () => {
    const all = allPlacements(bass('electric-4'), defaultHand, { highestPosition: 16 });
    expect(all.some((one) => one.finger === 'T')).toBe(false);
    expect(all.some((one) => one.position === 1 && one.finger === '3')).toBe(true);
    expect(all.some((one) => one.position === 14 && one.finger === '4')).toBe(true);
  });
});

describe('the C extension', () => {
  const extended = bass('bass-extension');

  it('adds C, D flat, D and E flat off the board, one finger each, and nothing else', () => {
    const plain = allPlacements(defaultInstrument, defaultHand, range);
    const all = allPlacements(extended, defaultHand, range);
    const added = all.filter((one) => isOnExtension(one.position));
    expect(all.slice(0, plain.length)).toEqual(plain);
    expect(all).toHaveLength(plain.length + added.length);
    expect(added.map((one) => one.midi)).toEqual([24, 25, 26, 27]);
    expect(added.map((one) => one.finger)).toEqual(['1', '1', '1', '1']);
  });

  it('is a place of its own, named so, and far from the board', () => {
    const places = extensionPositions(extended);
    expect(places).toEqual([-4, -3, -2, -1]);
    expect(new Set(places.map(positionName))).toEqual(new Set(['extension']));
    expect(new Set(places.map((place) => armZoneOf(extended, place)))).toEqual(new Set(['off the board']));
    // The low C is 276 mm above the nut (computed: 1060 * (2^(4/12) - 1)), the half position 59 mm below it.
    expect(stopInterval(extended, -4, 1)).toBeCloseTo(275.5 + 59.5, 0);
    expect(extensionPositions(defaultInstrument)).toEqual([]);
  });
});

describe('arm zones and position names', () => {
  it('go from behind the neck over the shoulder to the thumb, changing at heel and octave', () => {
    const zones = Array.from({ length: 14 }, (_, index) =>
      armZoneOf(defaultInstrument, handPosition(index + 1)),
    );
    expect(zones.indexOf('over the shoulder') + 1).toBe(defaultInstrument.heel);
    expect(zones.indexOf('thumb on the string') + 1).toBe(12);
    expect(new Set(zones)).toEqual(new Set(armZones.slice(1)));
    expect(regionOf(handPosition(12))).toBe('octave');
  });

  it('can be a numeral, the first-finger note, or both', () => {
    const position = handPosition(6);
    expect(namedPosition(defaultInstrument, position, 'numeral')).toBe('III½');
    expect(namedPosition(defaultInstrument, position, 'first-finger note')).toBe('D♭');
    expect(namedPosition(defaultInstrument, position, 'both')).toBe('III½ (D♭)');
  });
});
