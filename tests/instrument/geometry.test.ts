import { describe, expect, it } from 'vitest';
import {
  defaultInstrument,
  defaultMover,
  difficulty,
  frameSpan,
  handPosition,
  movementTime,
  stopDistance,
  stringSpacing,
  targetWidth,
  timeToMove,
  withLength,
} from '../../src/instrument';
import { millimetres, seconds } from '../../src/music';
import { readTable } from '../table';

describe('the fingerboard in millimetres', () => {
  it('places stops as equal temperament does (any acoustics text)', () => {
    const table = readTable('checks/stops.tsv');
    for (const row of table.rows) {
      const share = stopDistance(defaultInstrument, row.number('stop')) / defaultInstrument.length;
      expect(Math.abs(share - row.number('share'))).toBeLessThan(0.00005 + 1e-12);
    }
    table.expectAllRead();
    expect(stopDistance(defaultInstrument, 24)).toBeCloseTo(795, 6);
  });

  it('gives each semitone a nearly 17.817th of what is left of the string (the luthiers’ rule)', () => {
    for (let stop = 0; stop < 24; stop++) {
      const left = defaultInstrument.length - stopDistance(defaultInstrument, stop);
      const step = stopDistance(defaultInstrument, stop + 1) - stopDistance(defaultInstrument, stop);
      expect(left / step).toBeCloseTo(17.817, 3);
    }
  });

  it('spreads the strings from 10 mm at the nut to 28 mm at the bridge', () => {
    expect(stringSpacing(defaultInstrument, millimetres(0))).toBe(10);
    expect(stringSpacing(defaultInstrument, defaultInstrument.length)).toBe(28);
  });

  it('tunes to E A D G, MIDI 28 33 38 43, strings numbered from the highest', () => {
    expect(defaultInstrument.strings.map((string) => string.open)).toEqual([43, 38, 33, 28]);
    expect(defaultInstrument.strings.map((string) => string.numeral)).toEqual(['I', 'II', 'III', 'IV']);
    expect(defaultInstrument.strings.map((string) => string.name)).toEqual(['G', 'D', 'A', 'E']);
  });
});

describe('spans', () => {
  it('match the table to half a millimetre', () => {
    const table = readTable('checks/spans.tsv');
    for (const row of table.rows) {
      const position = handPosition(row.number('position'));
      const columns = [
        ['whole_tone', 2],
        ['minor_third', 3],
        ['major_third', 4],
      ] as const;
      for (const [column, width] of columns) {
        expect(
          Math.abs(frameSpan(defaultInstrument, position, width) - row.number(column)),
        ).toBeLessThanOrEqual(0.5);
      }
    }
    table.expectAllRead();
  });

  it('shrink with the string: on 864 mm by the ratio of the lengths', () => {
    const short = withLength(defaultInstrument, 864);
    for (let semitone = 1; semitone <= 12; semitone++) {
      const position = handPosition(semitone);
      const ratio = frameSpan(short, position, 3) / frameSpan(defaultInstrument, position, 3);
      expect(ratio).toBeCloseTo(864 / 1060, 12);
    }
  });
});

describe('movement', () => {
  it('has the index of difficulty of the table, to a hundredth of a bit', () => {
    const table = readTable('checks/fitts.tsv');
    for (const row of table.rows) {
      const bits = difficulty(defaultInstrument, handPosition(1), handPosition(1 + row.number('semitones')));
      expect(Math.abs(bits - row.number('bits'))).toBeLessThanOrEqual(0.01);
    }
    table.expectAllRead();
  });

  it('does not depend on string length nor on where the shift starts', () => {
    const short = withLength(defaultInstrument, 864);
    for (const step of [1, 2, 5]) {
      const first = difficulty(defaultInstrument, handPosition(1), handPosition(1 + step));
      for (let start = 1; start <= 7; start++) {
        expect(difficulty(short, handPosition(start), handPosition(start + step))).toBeCloseTo(first, 10);
      }
    }
  });

  it('has targets of about 17 mm in half position and 9 mm at the octave (computed)', () => {
    expect(targetWidth(defaultInstrument, 1, 15)).toBeCloseTo(17, 0);
    expect(targetWidth(defaultInstrument, 12, 15)).toBeCloseTo(9, 0);
  });

  it('takes no time when the hand stays, and a quarter to half a second otherwise', () => {
    expect(movementTime(defaultInstrument, handPosition(3), handPosition(3))).toBe(0);
    const third = movementTime(defaultInstrument, handPosition(2), handPosition(5));
    expect(third).toBeCloseTo(defaultMover.intercept + defaultMover.slope * 3.58, 2);
  });

  it('has the whole note under an open string, a share of it between stopped notes', () => {
    expect(timeToMove(seconds(0.5), true)).toBe(0.5);
    expect(timeToMove(seconds(0.5), false)).toBeCloseTo(0.5 * defaultMover.bareShare, 12);
  });
});
