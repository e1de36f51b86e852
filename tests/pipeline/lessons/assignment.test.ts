// The least sum of a sharing out, beside all ways there are.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assign } from '../../../src/pipeline';

/** The least sum over every way, tried one by one; Infinity when there is none. */
function leastOfAll(costs: readonly (readonly number[])[], most: readonly number[], task = 0): number {
  if (task === costs.length) return 0;
  return most.reduce((least, left, place) => {
    if (left === 0 || !Number.isFinite(costs[task]![place]!)) return least;
    const rest = leastOfAll(costs, most.with(place, left - 1), task + 1);
    return Math.min(least, costs[task]![place]! + rest);
  }, Infinity);
}

const cost = fc.oneof(
  { weight: 5, arbitrary: fc.integer({ min: -50, max: 50 }) },
  { weight: 1, arbitrary: fc.constant(Infinity) },
);

describe('assignment', () => {
  it('is the least of all ways, or none where there is none', () => {
    let impossible = 0;
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 7 }).chain((tasks) =>
          fc.integer({ min: 1, max: 4 }).chain((places) =>
            fc.record({
              costs: fc.array(fc.array(cost, { minLength: places, maxLength: places }), {
                minLength: tasks,
                maxLength: tasks,
              }),
              most: fc.array(fc.integer({ min: 0, max: 3 }), { minLength: places, maxLength: places }),
            }),
          ),
        ),
        ({ costs, most }) => {
          const least = leastOfAll(costs, most);
          const found = assign(costs, most);
          if (!Number.isFinite(least)) {
            impossible++;
            expect(found).toBeNull();
            return;
          }
          expect(found!.cost).toBe(least);
          expect(found!.places.reduce((sum, place, task) => sum + costs[task]![place]!, 0)).toBe(least);
          most.forEach((limit, place) =>
            expect(found!.places.filter((one) => one === place).length).toBeLessThanOrEqual(limit),
          );
        },
      ),
      { numRuns: 2000 },
    );
    expect(impossible).toBeGreaterThan(50);
  });

  it('gives twelve keys to four grounds three times each', () => {
    const costs = Array.from({ length: 12 }, (_, key) =>
      Array.from({ length: 4 }, (__, ground) => ((key * 7 + ground * 11) % 13) * 100),
    );
    const found = assign(costs, [3, 3, 3, 3])!;
    for (const ground of [0, 1, 2, 3])
      expect(found.places.filter((place) => place === ground)).toHaveLength(3);
    // No two keys would gain by changing grounds with each other.
    found.places.forEach((a, i) =>
      found.places.forEach((b, j) => {
        const now = costs[i]![a]! + costs[j]![b]!;
        expect(costs[i]![b]! + costs[j]![a]!).toBeGreaterThanOrEqual(now);
      }),
    );
  });

  it('of nothing costs nothing', () => {
    expect(assign([], [1, 2])).toEqual({ places: [], cost: 0 });
    expect(assign([[1]], [0])).toBeNull();
  });
});
