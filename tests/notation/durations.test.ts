// Note values, ties within the bar, rests and beams.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { barGrid, barTicks, type BarGrid, type Meter } from '../../src/music';
import { beamGroups, drawnValuesOf, type DrawnPiece } from '../../src/notation/durations';

const four: Meter = { beats: 4, unit: 4 };
const three: Meter = { beats: 3, unit: 4 };
const sixEight: Meter = { beats: 6, unit: 8 };

const gridOf = (meter: Meter): BarGrid => barGrid(meter, barTicks(meter), false);

/** What is drawn for a stretch of a bar, with silence about it, or sound about a rest. */
function writeSpan(start: number, ticks: number, meter: Meter, kind: 'note' | 'rest'): readonly DrawnPiece[] {
  const isRest = kind === 'rest';
  const end = start + ticks;
  const stretches = [
    { start: 0, end: start, isRest: !isRest },
    { start, end, isRest },
    { start: end, end: barTicks(meter), isRest: !isRest },
  ].filter((one) => one.end > one.start);
  return drawnValuesOf(stretches, gridOf(meter))[start > 0 ? 1 : 0]!;
}

/** "4." for a dotted quarter, "8t" for an eighth of a triplet, tied values joined by +. */
const written = (pieces: readonly DrawnPiece[]): string =>
  pieces.map(({ value, dots, triplet }) => `${value}${dots === 1 ? '.' : ''}${triplet ? 't' : ''}`).join('+');

describe('note values', () => {
  // Common practice, no source: beats stay visible, and so does the middle of a bar of four, except in plain syncopations.
  it.each([
    [0, 480, four, '4'],
    [0, 960, four, '2'],
    [0, 1440, four, '2.'],
    [0, 1920, four, '1'],
    [480, 960, four, '2'],
    [480, 1440, four, '2.'],
    [240, 240, four, '8'],
    [0, 720, four, '4.'],
    [480, 720, four, '4+8'],
    [240, 480, four, '4'],
    [720, 480, four, '8+8'],
    [720, 1200, four, '8+2'],
    [960, 720, four, '4.'],
    [0, 360, four, '8.'],
    [360, 120, four, '16'],
    [0, 160, four, '8t'],
    [160, 160, four, '8t'],
    [0, 320, four, '4t'],
    [320, 160, four, '8t'],
    [320, 640, four, '8t+4'],
    [0, 1440, three, '2.'],
    [0, 720, sixEight, '4.'],
    [0, 1440, sixEight, '2.'],
    [480, 480, sixEight, '8+8'],
  ])('at %i for %i ticks', (offset, ticks, meter, values) => {
    expect(written(writeSpan(offset, ticks, meter, 'note'))).toBe(values);
  });

  it('writes rests beat by beat, a half only on a half', () => {
    expect(written(writeSpan(0, 960, four, 'rest'))).toBe('2');
    expect(written(writeSpan(480, 960, four, 'rest'))).toBe('4+4');
    expect(written(writeSpan(240, 720, four, 'rest'))).toBe('8+4');
    expect(written(writeSpan(0, 960, three, 'rest'))).toBe('4+4');
    expect(written(writeSpan(0, 720, sixEight, 'rest'))).toBe('4.');
  });

  it('writes something for any length, and all of it on the grid of sixteenths', () => {
    const meter = fc.constantFrom<Meter>(four, three, sixEight, { beats: 5, unit: 4 }, { beats: 2, unit: 2 });
    fc.assert(
      fc.property(meter, fc.nat(), fc.nat(), fc.constantFrom('note', 'rest'), (one, a, b, kind) => {
        const steps = barTicks(one) / 120;
        const from = (a % steps) * 120;
        const ticks = (1 + (b % (steps - from / 120))) * 120;
        const pieces = writeSpan(from, ticks, one, kind);
        expect(pieces.reduce((sum, piece) => sum + piece.ticks, 0)).toBe(ticks);
        pieces.forEach((piece, index) => {
          const before = pieces[index - 1];
          expect(piece.offset).toBe(before === undefined ? from : before.offset + before.ticks);
        });
      }),
    );
    expect(writeSpan(7, 33, four, 'note')).toHaveLength(1);
  });
});

describe('beams', () => {
  const row = (...lengths: number[]): DrawnPiece[] => {
    let at = 0;
    return lengths.flatMap((ticks) => {
      const pieces = writeSpan(at, ticks, four, 'note');
      at += ticks;
      return pieces;
    });
  };

  it('join the eighths of a beat', () => {
    expect(beamGroups(row(480, 240, 240, 480, 480), gridOf(four), four)).toEqual([[1, 2]]);
  });

  it('join four plain eighths in half a bar, not over the middle', () => {
    expect(beamGroups(row(240, 240, 240, 240, 240, 240, 240, 240), gridOf(four), four)).toEqual([
      [0, 1, 2, 3],
      [4, 5, 6, 7],
    ]);
    expect(beamGroups(row(480, 240, 240, 240, 240, 480), gridOf(four), four)).toEqual([
      [1, 2],
      [3, 4],
    ]);
  });

  it('leave a lone eighth its flag', () => {
    expect(beamGroups(row(720, 240, 720, 240), gridOf(four), four)).toEqual([]);
  });

  it('join a triplet, and three eighths in six eight', () => {
    expect(beamGroups(row(160, 160, 160, 480, 480, 480), gridOf(four), four)).toEqual([[0, 1, 2]]);
    const eighths = [0, 240, 480, 720, 960, 1200].flatMap((at) => writeSpan(at, 240, sixEight, 'note'));
    expect(beamGroups(eighths, gridOf(sixEight), sixEight)).toEqual([
      [0, 1, 2],
      [3, 4, 5],
    ]);
  });
});
