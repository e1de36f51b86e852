import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { barGrid, barTicks, noteTypes, writtenValues, type Meter, type Piece } from '../../../src/music';

const meter = (text: string): Meter => {
  const [beats, unit] = text.split('/').map(Number);
  return { beats, unit } as Meter;
};

/** "h. q" for a dotted half tied to a quarter; r before rests. */
function shorthand(pieces: readonly Piece[]): string {
  const signs = {
    breve: 'b',
    whole: 'w',
    half: 'h',
    quarter: 'q',
    eighth: 'e',
    '16th': 's',
    '32nd': 't',
    '64th': 'x',
  };
  return pieces
    .map(({ value }) =>
      value ? `${signs[value.type]}${'.'.repeat(value.dots)}${value.triplet ? '3' : ''}` : '?',
    )
    .join(' ');
}

function written(meterText: string, start: number, end: number, isRest = false): string {
  const grid = barGrid(meter(meterText), barTicks(meter(meterText)), false);
  const stretches = [
    { start: 0, end: start, isRest: true },
    { start, end, isRest },
    { start: end, end: grid.ticks, isRest: true },
  ].filter((one) => one.end > one.start);
  return shorthand(writtenValues(stretches, grid)[start > 0 ? 1 : 0]!);
}

// Common practice, no source: a value may hide one beat, the middle of the bar only when it starts and ends on a beat.
describe('note values show the beats', () => {
  it.each([
    ['4/4', 0, 1920, 'w'],
    ['4/4', 0, 1440, 'h.'],
    ['4/4', 480, 1440, 'h'],
    ['4/4', 240, 720, 'q'],
    ['4/4', 480, 1200, 'q e'],
    ['4/4', 480, 1920, 'h.'],
    ['8/8', 480, 960, 'e e'],
    ['3/2', 1440, 2880, 'q h'],
    ['4/4', 720, 1200, 'e e'],
    ['4/4', 240, 1200, 'q. e'],
    ['4/4', 0, 1200, 'h e'],
    ['4/4', 0, 720, 'q.'],
    ['4/4', 360, 600, 's s'],
    ['3/4', 0, 1440, 'h.'],
    ['3/4', 480, 1440, 'h'],
    ['2/4', 0, 960, 'h'],
    ['2/2', 0, 1920, 'w'],
    ['3/2', 0, 2880, 'w.'],
    ['4/2', 0, 3840, 'b'],
    ['5/4', 0, 2400, 'h. h'],
    ['5/4', 960, 1920, 'q q'],
    ['7/4', 0, 3360, 'w h.'],
    ['6/8', 0, 1440, 'h.'],
    ['6/8', 0, 960, 'q. e'],
    ['6/8', 480, 960, 'e e'],
    ['6/8', 240, 720, 'q'],
    ['9/8', 0, 2160, 'h. q.'],
    ['12/8', 0, 2880, 'w.'],
    ['12/8', 720, 2160, 'h.'],
    ['7/8', 0, 1680, 'h q.'],
  ])('%s from %i to %i is %s', (meterText, start, end, expected) => {
    expect(written(meterText, start, end)).toBe(expected);
  });

  it.each([
    ['4/4', 480, 1440, 'q q'],
    ['4/4', 960, 1920, 'h'],
    ['4/4', 0, 720, 'q e'],
    ['3/4', 0, 960, 'q q'],
    ['5/4', 1440, 2400, 'h'],
    ['6/8', 0, 720, 'q.'],
    ['12/8', 1440, 2880, 'h.'],
  ])('a rest in %s from %i to %i is %s', (meterText, start, end, expected) => {
    expect(written(meterText, start, end, true)).toBe(expected);
  });

  it('writes thirds of a beat as triplets, and ties into the beat around them', () => {
    const grid = barGrid(meter('4/4'), 1920, false);
    const stretch = (start: number, end: number) => ({ start, end, isRest: false });
    const pieces = writtenValues(
      [stretch(0, 800), stretch(800, 960), stretch(960, 1120), stretch(1120, 1280), stretch(1280, 1920)],
      grid,
    );
    expect(pieces.map(shorthand)).toEqual(['q q3', 'e3', 'e3', 'e3', 'e3 q']);
    expect(pieces.flat().map(({ tuplet }) => tuplet)).toEqual([
      null,
      'start',
      'stop',
      'start',
      'inside',
      'stop',
      null,
    ]);
  });

  it('counts the beats of a pickup from its end', () => {
    const grid = barGrid(meter('4/4'), 720, true);
    const pieces = writtenValues(
      [
        { start: 0, end: 480, isRest: false },
        { start: 480, end: 720, isRest: false },
      ],
      grid,
    );
    expect(pieces.map(shorthand)).toEqual(['q', 'e']);
    const late = writtenValues([{ start: 0, end: 720, isRest: false }], grid);
    expect(late.map(shorthand)).toEqual(['q.']);
  });

  it('keeps a length that no value has', () => {
    const grid = barGrid(meter('4/4'), 1920, false);
    const pieces = writtenValues(
      [
        { start: 0, end: 7, isRest: false },
        { start: 7, end: 1920, isRest: true },
      ],
      grid,
    );
    expect(pieces[0]).toEqual([{ start: 0, end: 7, value: null, tuplet: null }]);
    expect(pieces.flat().at(-1)!.end).toBe(1920);
  });
});

const meters = [
  '2/4',
  '3/4',
  '4/4',
  '5/4',
  '6/4',
  '7/4',
  '2/2',
  '3/2',
  '3/8',
  '5/8',
  '6/8',
  '7/8',
  '8/8',
  '9/8',
  '12/8',
];

describe('any cut of any bar', () => {
  it('is covered exactly, by values of the right length', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...meters),
        fc.constantFrom(1, 5, 40, 60, 80, 120, 160, 240),
        fc.array(fc.tuple(fc.nat(100), fc.boolean()), { maxLength: 12 }),
        (meterText, step, cuts) => {
          const grid = barGrid(meter(meterText), barTicks(meter(meterText)), false);
          const places = [...new Set([0, ...cuts.map(([at]) => (at * step) % grid.ticks), grid.ticks])];
          places.sort((a, b) => a - b);
          const stretches = places.slice(0, -1).map((start, index) => ({
            start,
            end: places[index + 1]!,
            isRest: cuts[index]?.[1] ?? false,
          }));
          const pieces = writtenValues(stretches, grid);
          let at = 0;
          for (const [index, own] of pieces.entries()) {
            for (const { start, end, value } of own) {
              expect(start).toBe(at);
              expect(end).toBeGreaterThan(start);
              at = end;
              if (value === null) continue;
              const plain = (3840 / 2 ** noteTypes.indexOf(value.type)) * (value.dots === 1 ? 1.5 : 1);
              expect(end - start).toBe(value.triplet ? (plain * 2) / 3 : plain);
              const inner = [...grid.edges].filter((edge) => edge > start && edge < end);
              if (inner.length > 0) expect(grid.edges.has(start) && grid.edges.has(end)).toBe(true);
            }
            expect(at).toBe(stretches[index]!.end);
          }
        },
      ),
      { numRuns: 300 },
    );
  });
});
