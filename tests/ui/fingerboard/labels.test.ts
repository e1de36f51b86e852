import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  alongWay,
  besideDisc,
  dotRadius,
  shownLabels,
  sideOf,
  type Extent,
} from '../../../src/ui/fingerboard/labels';
import type { Point } from '../../../src/ui/fingerboard/geometry';

const label: Extent = { x: 13, y: 9 };
const box = { width: 390, height: 300 };

describe('labels on the map', () => {
  it('are shown in order as far as none covers another', () => {
    const points: readonly Point[] = [
      { x: 100, y: 100 },
      { x: 118, y: 100 },
      { x: 127, y: 100 },
      { x: 100, y: 118 },
    ];
    // The second is 18 px from the first, where 26 are needed; the third is clear of both the first and the second's mark
    // only from 13 + 5 px on.
    expect(
      shownLabels(
        points,
        points.map(() => label),
        [],
      ),
    ).toEqual([true, false, false, true]);
    expect(shownLabels([points[0]!, points[2]!], [label, label], [])).toEqual([true, true]);
  });

  it('leave what lies there already in sight', () => {
    const disc = [
      { x: 100, y: 100 },
      { x: 16, y: 16 },
    ] as const;
    expect(
      shownLabels(
        [
          { x: 120, y: 100 },
          { x: 129, y: 100 },
        ],
        [label, label],
        [disc],
      ),
    ).toEqual([false, false]);
    expect(shownLabels([{ x: 129, y: 100 }], [label], [disc])).toEqual([true]);
  });

  it('never cover each other, and the first is always shown', () => {
    const point = fc.record({ x: fc.integer({ min: 0, max: 200 }), y: fc.integer({ min: 0, max: 200 }) });
    fc.assert(
      fc.property(fc.array(point, { minLength: 1, maxLength: 30 }), (points) => {
        const shown = shownLabels(
          points,
          points.map(() => label),
          [],
        );
        const seen = points.filter((_, index) => shown[index]);
        expect(shown[0]).toBe(true);
        seen.forEach((one, index) => {
          for (const other of seen.slice(index + 1)) {
            const apart =
              Math.abs(one.x - other.x) >= 2 * label.x || Math.abs(one.y - other.y) >= 2 * label.y;
            expect(apart).toBe(true);
          }
        });
      }),
    );
  });
});

describe('the label of a disc', () => {
  const disc = { x: 100, y: 100 };

  it('hangs where it covers the fewest spots', () => {
    expect(sideOf(disc, 16, label, [], box)).toBe('right');
    expect(sideOf(disc, 16, label, [{ x: 130, y: 100 }], box)).toBe('left');
    const around = [
      { x: 130, y: 100 },
      { x: 70, y: 100 },
      { x: 100, y: 75 },
    ];
    expect(sideOf(disc, 16, label, around, box)).toBe('below');
  });

  it('stays in the box even where that covers a spot', () => {
    const edge = { x: 375, y: 12 };
    expect(sideOf(edge, 16, label, [{ x: 350, y: 12 }], box)).toBe('below');
    expect(
      sideOf(
        edge,
        16,
        label,
        [
          { x: 350, y: 12 },
          { x: 375, y: 37 },
        ],
        box,
      ),
    ).toBe('left');
  });

  it('touches the disc and does not cover it', () => {
    for (const side of ['right', 'left', 'above', 'below'] as const) {
      const middle = besideDisc(disc, 16, label, side);
      const apart = [Math.abs(middle.x - disc.x) - label.x, Math.abs(middle.y - disc.y) - label.y];
      expect(Math.max(...apart)).toBe(16);
    }
    expect(dotRadius).toBeLessThan(label.y);
  });
});

describe('a way that no price may cover', () => {
  it('has a point at least every eight pixels, from its first place to its last', () => {
    const way = alongWay([
      { x: 0, y: 0 },
      { x: 60, y: 80 },
      { x: 60, y: 90 },
    ]);
    expect(way[0]).toEqual({ x: 0, y: 0 });
    expect(way.at(-1)).toEqual({ x: 60, y: 90 });
    way.slice(1).forEach(({ x, y }, index) => {
      expect(Math.hypot(x - way[index]!.x, y - way[index]!.y)).toBeLessThanOrEqual(8);
    });
    expect(alongWay([])).toEqual([]);
  });
});
