// The best line against an independent solver of linear programs (HiGHS). The program of a whole chart has millions of
// columns; these keep ten placements of each slot of a 12-bar chart (about 37,000 columns, 3,700 rows) and six of a 32-bar
// chart (about 24,000 columns, 4,000 rows), with all of their costs.
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/music';
import { bestPath } from '../../src/pipeline/4-solver';
import { doorLayers } from './layers';
import { solveByLp } from './lp';
import { realLattice } from './real-lattice';
import { thinned } from './thinned';

const timeout = 120_000;

describe('the best line costs what a minimum-cost flow through the written-out graph costs', () => {
  it.each([
    ['back-stairs-blues.txt', 12, 14, 18_000],
    ['corner-table.txt', 32, 9, 14_000],
  ])(
    '%s, %i bars, %i placements a slot',
    async (name, bars, placements, least) => {
      const real = realLattice(name, false);
      expect(real.bars).toBe(bars);
      const lattice = thinned(real.lattice, placements, seededRandom(1));
      const answer = (await solveByLp(lattice))!;
      expect(answer.columns).toBeGreaterThan(least);
      expect(answer.cost).toBeCloseTo(bestPath(lattice)!.cost, 3);
    },
    timeout,
  );

  it(
    'whichever way the graph is written',
    async () => {
      const lattice = thinned(realLattice('wet-gravel-blues.txt', false).lattice, 5, seededRandom(2));
      const cost = bestPath(lattice)!.cost;
      expect((await solveByLp(lattice))!.cost).toBeCloseTo(cost, 3);
      expect((await solveByLp(lattice, undefined, doorLayers))!.cost).toBeCloseTo(cost, 3);
    },
    timeout,
  );
});
