// The best line against a general graph library (graphology and its shortest paths): whole charts, every state and move.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/music';
import { bestPath } from '../../src/pipeline/4-solver';
import { randomLattice } from '../pipeline/4-solver/random-lattice';
import { solveByGraph } from './graph';
import { stateLayers } from './layers';
import { realLattice } from './real-lattice';
import { thinned } from './thinned';

describe('the best line costs what a shortest path through the written-out graph costs', () => {
  it.each([
    ['back-stairs-blues.txt', 12],
    ['corner-table.txt', 32],
  ])(
    'on the whole lattice of %s (%i bars)',
    (name, bars) => {
      const real = realLattice(name);
      expect(real.bars).toBe(bars);
      const answer = solveByGraph(real.lattice)!;
      // 400,000 states at least: nothing of the chart was left out.
      expect(answer.nodes).toBeGreaterThan(400_000);
      expect(bestPath(real.lattice)?.cost).toBe(answer.cost);
    },
    120_000,
  );

  it('on a chart written as states alone, without nodes between the layers', () => {
    const lattice = thinned(realLattice('wet-gravel-blues.txt').lattice, 24, seededRandom(3));
    expect(bestPath(lattice)?.cost).toBe(solveByGraph(lattice, stateLayers)!.cost);
  }, 60_000);

  it('on random lattices, some of whose moves are blocked', () => {
    fc.assert(
      fc.property(randomLattice, (lattice) => {
        expect(bestPath(lattice)?.cost).toBe(solveByGraph(lattice)?.cost);
        expect(bestPath(lattice)?.cost).toBe(solveByGraph(lattice, stateLayers)?.cost);
      }),
      { numRuns: 500, seed: 731 },
    );
  });
});
