// Paths read while the tables are made, against paths read from tables that are all kept.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/music';
import {
  bestPath,
  emptySolvedCache,
  makeSampler,
  type Lattice,
  type LatticeSlot,
} from '../../../src/pipeline/4-solver';
import { SurvivorPath, type StepBack } from '../../../src/pipeline/4-solver/survivor-path';
import { emptyMemory } from '../../../src/pipeline';
import { makeTimeline } from '../../../src/pipeline/2-timeline';
import { chartOf } from '../../../src/pipeline/pipeline';
import { makeSetting, requestWishes } from '../../../src/pipeline/setting';
import { changingChart } from '../../bench/charts';
import { requestFor } from '../request';

/** A value is its own table: for each of four states the state before it. */
type Table = readonly number[];

const back: StepBack<Table> = {
  open: () => [0, 1, 2, 3],
  before: (_t, table, state) => table[state]!,
};

/** Steps back that soon meet, or never do where every table is a permutation. */
const tables = (seed: number, length: number, meets: boolean): Table[] => {
  const random = seededRandom(seed);
  return Array.from({ length }, () => {
    const turned = Math.floor(random() * 4);
    return [0, 1, 2, 3].map((state) => (meets ? Math.floor(random() * 4) : (state + turned) % 4));
  });
};

const readBack = (all: readonly Table[], from: number, survivor: SurvivorPath<Table> | null): number[] => {
  let state = from;
  return Array.from({ length: all.length - 1 }, (_, index) => {
    const t = all.length - 2 - index;
    state = survivor ? survivor.before(t, state, (slot) => all[slot]!) : all[t]![state]!;
    return state;
  });
};

describe('SurvivorPath', () => {
  it('gives the path that reading every table gives, from every last state, gaps or not', () => {
    fc.assert(
      fc.property(
        fc.nat(),
        fc.integer({ min: 2, max: 900 }),
        fc.boolean(),
        fc.uniqueArray(fc.nat({ max: 899 }), { maxLength: 3 }),
        (seed, length, meets, gaps) => {
          const all = tables(seed, length, meets);
          const survivor = new SurvivorPath<Table>(length, back);
          all.forEach((table, t) => {
            if (!gaps.includes(t)) survivor.take(t, table);
          });
          for (const last of [0, 1, 2, 3])
            expect(readBack(all, last, survivor)).toEqual(readBack(all, last, null));
        },
      ),
      { numRuns: 300, seed: 51 },
    );
  });

  it('asks for no table again where the ways back meet', () => {
    const all = tables(3, 900, true);
    const survivor = new SurvivorPath<Table>(all.length, back);
    all.forEach((table, t) => survivor.take(t, table));
    let asked = 0;
    let state = 2;
    for (let t = all.length - 2; t >= 0; t--) {
      state = survivor.before(t, state, (slot) => {
        asked++;
        return all[slot]!;
      });
    }
    expect(asked).toBe(0);
  });

  it('lets go of tables where they never meet', () => {
    const all = tables(3, 2000, false);
    const survivor = new SurvivorPath<Table>(all.length, back);
    const asked = new Set<number>();
    all.forEach((table, t) => survivor.take(t, table));
    let state = 2;
    for (let t = all.length - 2; t >= 0; t--) {
      state = survivor.before(t, state, (slot) => {
        asked.add(slot);
        return all[slot]!;
      });
    }
    expect(asked.size).toBeGreaterThan(1000);
  });
});

function latticeOf(bars: number): Lattice {
  const request = requestFor(changingChart(bars), { limits: { barredPositions: [], highestStop: 4 } });
  const { timeline } = makeTimeline(chartOf(request).chart, { choruses: 1, tempo: null });
  const setting = makeSetting(request, timeline!, requestWishes(request), undefined, emptyMemory());
  const { slots, placementCount, memoryCount, startMemory } = setting!.lattice;
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
