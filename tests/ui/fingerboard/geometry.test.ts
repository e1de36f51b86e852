import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  defaultInstrument,
  extensionPositions,
  instruments,
  regionBounds,
  regions,
  withLength,
  type StringNumber,
} from '../../../src/instrument';
import {
  endStopFor,
  layBoard,
  orientationFor,
  regionView,
  stopAt,
  type Board,
  type BoardRequest,
} from '../../../src/ui/fingerboard/geometry';
import { boardOf } from './boards';

const request: BoardRequest = {
  instrument: defaultInstrument,
  width: 1100,
  height: 300,
  orientation: 'landscape',
  leftHanded: false,
  endStop: 14,
};
const lay = (change: Partial<BoardRequest> = {}): Board => layBoard({ ...request, ...change });
const strings = defaultInstrument.strings.map((string) => string.number);

describe('along the strings', () => {
  // Published: x(n) = L (1 - 2^(-n/12)); n = 5 is 0.2508 L, n = 7 is 0.3326 L, n = 12 is half of L (any acoustics text).
  it.each([
    [5, 0.2508],
    [7, 0.3326],
    [12, 0.5],
  ])('puts stop %i at %f of the string length', (stop, share) => {
    const board = lay();
    expect(board.along(stop) / (defaultInstrument.length * board.scale)).toBeCloseTo(share, 4);
  });

  // The luthiers' rule: every semitone takes away one 17.817th of the string that is left.
  it("agrees with the luthiers' rule of 17.817 within a tenth of a millimetre over two octaves", () => {
    const board = lay({ endStop: 25 });
    let left: number = defaultInstrument.length;
    for (let stop = 1; stop <= 24; stop++) {
      left -= left / 17.817;
      expect(Math.abs(board.along(stop) / board.scale - (defaultInstrument.length - left))).toBeLessThan(0.1);
    }
  });

  // Millimetres of a whole tone and a minor third above the first finger, L = 1060, computed from the formula.
  it.each([
    [1, 109.2, 159],
    [5, 86.6, 126],
    [8, 72.9, 106],
    [12, 57.8, 84],
  ])('draws the spans over position %i to scale', (position, tone, third) => {
    const board = lay({ instrument: withLength(defaultInstrument, 1060), endStop: 16 });
    const wide = (semitones: number): number =>
      (board.along(position + semitones) - board.along(position)) / board.scale;
    expect(wide(2)).toBeCloseTo(tone, 0);
    expect(wide(3)).toBeCloseTo(third, 0);
  });

  it('keeps the scale for both hands and in both directions, and fills the box to its end', () => {
    for (const orientation of ['landscape', 'portrait'] as const) {
      const room = orientation === 'landscape' ? { width: 900, height: 400 } : { width: 400, height: 900 };
      const right = lay({ orientation, ...room });
      const left = lay({ orientation, ...room, leftHanded: true });
      expect(left.scale).toBe(right.scale);
      expect(right.along(14)).toBeCloseTo(900 - right.head, 6);
    }
  });

  it('reads a distance back into a stop', () => {
    for (let stop = 0; stop <= 24; stop++) {
      expect(stopAt(defaultInstrument, lay().along(stop) / lay().scale)).toBeCloseTo(stop, 6);
    }
  });
});

describe('across the strings', () => {
  // 10 mm at the nut (9-11 published), 28 mm at the bridge (from memory), linear between.
  it('spreads them as the instrument does, stretched by the factor it tells', () => {
    const board = lay();
    const gap = (along: number): number =>
      (board.across(2 as StringNumber, along) - board.across(1 as StringNumber, along)) /
      board.scale /
      board.stretch;
    expect(gap(0)).toBeCloseTo(10, 6);
    expect(gap(board.along(12))).toBeCloseTo(19, 6);
  });

  it('keeps the highest string on top when wide and at the right when tall', () => {
    expect(lay().point(1 as StringNumber, 5).y).toBeLessThan(lay().point(4 as StringNumber, 5).y);
    const tall = lay({ orientation: 'portrait', width: 390, height: 640 });
    expect(tall.point(1 as StringNumber, 5).x).toBeGreaterThan(tall.point(4 as StringNumber, 5).x);
  });
});

describe('where the nut is', () => {
  it('is left when wide, right on a left-handed bass, on top when tall', () => {
    const nut = (board: Board): { x: number; y: number } => board.place(0, 0);
    expect(nut(lay()).x).toBeLessThan(200);
    expect(nut(lay({ leftHanded: true })).x).toBeGreaterThan(900);
    const tall = { orientation: 'portrait', width: 390, height: 640 } as const;
    expect(nut(lay(tall)).y).toBeLessThan(120);
    expect(nut(lay({ ...tall, leftHanded: true })).y).toBeLessThan(120);
  });

  it('puts an open string behind the nut', () => {
    expect(lay().point(1 as StringNumber, 0).x).toBeLessThan(lay().place(0, 0).x);
  });
});

describe('a region that fills the view', () => {
  const boxes = [
    { orientation: 'landscape', width: 1000, height: 300 },
    { orientation: 'portrait', width: 390, height: 400 },
  ] as const;

  it.each(regions)(
    '%s: shows its positions and the stops in reach, larger than on the whole board',
    (region) => {
      const { from, to } = regionBounds(region);
      for (const box of boxes) {
        const whole = lay(box);
        const board = lay({ ...box, ...regionView(region, endStopFor(12)) });
        expect(board.scale).toBeGreaterThan(whole.scale);
        const along = ({ x, y }: { x: number; y: number }): number =>
          box.orientation === 'landscape' ? x : y;
        const length = box.orientation === 'landscape' ? box.width : box.height;
        for (let stop: number = from; stop <= Math.min(to + 3, 15); stop++) {
          expect(along(board.point(1 as StringNumber, stop))).toBeGreaterThan(0);
          expect(along(board.point(1 as StringNumber, stop))).toBeLessThan(length);
        }
        // Open strings stay within reach of a tap, before the stops.
        const open = board.point(1 as StringNumber, 0);
        expect(along(open)).toBeGreaterThan(0);
        expect(along(open)).toBeLessThan(along(board.point(1 as StringNumber, from)));
      }
    },
  );

  it('finds the string and stop of a tap, mirrored or not', () => {
    for (const region of regions) {
      const { from, to } = regionBounds(region);
      for (const box of boxes) {
        for (const leftHanded of [false, true]) {
          const board = lay({ ...box, leftHanded, ...regionView(region, endStopFor(12)) });
          for (const stop of [0, from, Math.min(to, 13)]) {
            for (const string of strings)
              expect(board.locate(board.point(string, stop))).toEqual({ string, stop });
          }
        }
      }
    }
  });
});

describe('a tap', () => {
  const boards = fc.record({
    width: fc.integer({ min: 320, max: 1600 }),
    height: fc.integer({ min: 240, max: 1000 }),
    leftHanded: fc.boolean(),
    endStop: fc.double({ min: 12, max: 25, noNaN: true }),
    orientation: fc.constantFrom('landscape' as const, 'portrait' as const),
  });

  it('finds the string and stop it was aimed at, on every board, mirrored or not', () => {
    fc.assert(
      fc.property(boards, fc.nat(3), fc.nat(12), (change, index, stop) => {
        const board = lay(change);
        const string = strings[index]!;
        expect(board.locate(board.point(string, stop))).toEqual({ string, stop });
      }),
    );
  });

  it('lands on the mirror image on a left-handed bass', () => {
    fc.assert(
      fc.property(boards, fc.nat(3), fc.nat(12), (change, index, stop) => {
        const [right, left] = [lay({ ...change, leftHanded: false }), lay({ ...change, leftHanded: true })];
        const string = strings[index]!;
        const [seen, mirrored] = [right.point(string, stop), left.point(string, stop)];
        expect(mirrored.x).toBeCloseTo(right.width - seen.x, 6);
        expect(mirrored.y).toBeCloseTo(seen.y, 6);
      }),
    );
  });

  it('on the G string at the first position means that, also left-handed', () => {
    const left = lay({ leftHanded: true });
    const tap = {
      x: left.width - lay().point(1 as StringNumber, 2).x + 3,
      y: lay().point(1 as StringNumber, 2).y,
    };
    expect(left.locate(tap)).toEqual({ string: 1, stop: 2 });
  });

  it('beside the board means nothing', () => {
    expect(lay().locate({ x: 500, y: 2 })).toBeNull();
    expect(lay().locate({ x: 500, y: 299 })).toBeNull();
  });
});

describe('the view', () => {
  it('ends beyond the highest stop, and never before the octave', () => {
    expect(endStopFor(3)).toBeGreaterThan(12);
    expect(endStopFor(17)).toBeGreaterThan(17);
  });

  it('stands up in a tall box', () => {
    expect(orientationFor(390, 640)).toBe('portrait');
    expect(orientationFor(1100, 300)).toBe('landscape');
  });
});

describe('an extension', () => {
  const extended = instruments.find(({ extension }) => extension !== undefined)!;
  const place = extensionPositions(extended);

  it('is in sight from the open string to its lowest stop, in order, and a tap finds each of them', () => {
    for (const change of [
      {},
      { leftHanded: true },
      { orientation: 'portrait', width: 390, height: 640 } as const,
    ]) {
      const board = boardOf({ instrument: extended, ...change });
      const { string } = extended.extension!;
      const points = [0, ...place.toReversed()].map((stop) => board.point(string, stop));
      points.forEach(({ x, y }, index) => {
        expect(x).toBeGreaterThan(0);
        expect(x).toBeLessThan(board.width);
        expect(y).toBeGreaterThan(0);
        expect(board.locate({ x, y })).toEqual({ string, stop: index === 0 ? 0 : -index });
        const before = points[index - 1];
        if (before) expect(Math.hypot(x - before.x, y - before.y)).toBeGreaterThanOrEqual(24);
      });
      expect(board.locate(board.point(1 as StringNumber, -2))).toEqual({ string: 1, stop: 0 });
    }
  });

  it('takes nothing from other basses', () => {
    const [usual, longer] = [boardOf(), boardOf({ instrument: extended })];
    expect(usual.head).toBe(104);
    expect(longer.head).toBe(104 + 26 * place.length);
  });
});
