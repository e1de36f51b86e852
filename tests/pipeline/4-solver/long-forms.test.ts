// Forms too long to keep every table of: tables are made again, and nothing else differs.
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/music';
import {
  bestPath,
  emptySolvedCache,
  makeSampler,
  type Lattice,
  type LatticeSlot,
} from '../../../src/pipeline/4-solver';
import { emptyCaches } from '../../../src/pipeline';
import { makeTimeline } from '../../../src/pipeline/2-timeline';
import { chartOf } from '../../../src/pipeline/pipeline';
import { makeInstance, requestWishes } from '../../../src/pipeline/problem/instance';
import { changingChart } from '../../bench/charts';
import { requestFor } from '../request';

function latticeOf(bars: number): Lattice {
  const request = requestFor(changingChart(bars), { limits: { barredPositions: [], highestStop: 4 } });
  const { timeline } = makeTimeline(chartOf(request).chart, { choruses: 1, tempo: null });
  const instance = makeInstance(request, timeline!, requestWishes(request), undefined, emptyCaches());
  const { slots, placementCount, memoryCount, startMemory } = instance!.lattice;
  return { slots, placementCount, memoryCount, startMemory };
}

describe('a long form that never comes round', () => {
  it('gives the same line and the same takes whether its tables are kept or not', () => {
    const lattice = latticeOf(60);
    expect(lattice.slots.length).toBeGreaterThan(240);
    expect(bestPath(lattice, 16)).toEqual(bestPath(lattice, 1));
    for (const temperature of [1, 0.3]) {
      for (let seed = 0; seed < 5; seed++) {
        const draw = (spacing: number) =>
          makeSampler(lattice, temperature, 1000, undefined, spacing).draw(seededRandom(seed));
        expect(draw(16)).toEqual(draw(1));
      }
    }
  }, 60_000);

  it('gives after an edit anywhere what it gives from nothing, though few tables are kept', () => {
    const random = seededRandom(12);
    const cache = emptySolvedCache();
    let lattice = latticeOf(40);
    for (let count = 0; count < 8; count++) {
      const at = Math.floor(random() * lattice.slots.length);
      const slots = lattice.slots.map((slot, t): LatticeSlot => {
        if (t !== at) return slot;
        return {
          ...slot,
          placementCosts: slot.placementCosts.map((cost) => cost + Math.floor(3000 * random())),
        };
      });
      lattice = { ...lattice, slots };
      const draw = (one: Lattice, spacing: number) =>
        makeSampler(one, 1, 1000, undefined, spacing).draw(seededRandom(count));
      expect(bestPath({ ...lattice, cache }, 13)).toEqual(bestPath(lattice, 1));
      expect(draw({ ...lattice, cache }, 13)).toEqual(draw(lattice, 1));
    }
  }, 60_000);
});
