// Turns by class, against the table of turns itself; and what the solver makes of them, against what it makes of a table
// whose steps are all classes of their own.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boltzmann, infinite, Weights } from '../../../src/pipeline/4-solver';
import { realLattice } from '../../checks/real-lattice';
import { takenBackCosts, turnClasses } from '../../../src/pipeline/4-solver/turns';

const reach = 4;
const width = 2 * reach + 1;

/** A table of few classes with other costs for steps taken back, and some entries that fit into no class. */
const classed = fc
  .record({
    rowOf: fc.array(fc.nat({ max: 2 }), { minLength: width, maxLength: width }),
    columnOf: fc.array(fc.nat({ max: 2 }), { minLength: width, maxLength: width }),
    costs: fc.array(fc.integer({ min: -900, max: 900 }), { minLength: 9, maxLength: 9 }),
    backs: fc.array(fc.integer({ min: -1500, max: 1500 }), { minLength: width, maxLength: width }),
    odd: fc.array(fc.tuple(fc.nat({ max: width * width - 1 }), fc.constantFrom(700, infinite)), {
      maxLength: 2,
    }),
  })
  .map(({ rowOf, columnOf, costs, backs, odd }) => {
    const table = Int32Array.from({ length: width * width }, (_, index) => {
      const [first, second] = [Math.floor(index / width), index % width];
      return first + second === width - 1 ? backs[first]! : costs[rowOf[first]! * 3 + columnOf[second]!]!;
    });
    for (const [index, cost] of odd) table[index] = cost;
    return { table, isRegular: odd.length === 0 };
  });

describe('turnClasses', () => {
  it('are few for the turns of lines, which is what makes solving them quick', () => {
    const { turnCosts, reach: widest } = realLattice('corner-table.txt').lattice;
    const { rows, columns } = turnClasses(turnCosts, widest);
    expect(rows).toBeLessThanOrEqual(7);
    expect(columns).toBeLessThanOrEqual(5);
  });

  it('say of every turn what the table says, steps taken back set right', () => {
    let few = 0;
    fc.assert(
      fc.property(classed, ({ table, isRegular }) => {
        const classes = turnClasses(table, reach);
        const more = takenBackCosts(table, classes);
        for (let first = 0; first < width; first++) {
          for (let second = 0; second < width; second++) {
            const byClass =
              classes.costs[classes.rowOf[first]! * classes.columns + classes.columnOf[second]!]!;
            const isBack = first + second === width - 1;
            expect(byClass + (isBack ? more[first]! : 0)).toBe(table[first * width + second]);
          }
        }
        if (isRegular && classes.rows <= 3 && classes.columns <= 3) few++;
      }),
      { numRuns: 500, seed: 41 },
    );
    expect(few).toBeGreaterThan(100);
  });

  it('weigh every turn as the table does, also where it is too cold to take anything away', () => {
    fc.assert(
      fc.property(classed, fc.constantFrom(2, 1, 0.1, 0.01), ({ table }, temperature) => {
        const { classes, weights, extra } = new Weights(temperature, 1000).ofTurns({
          turnCosts: table,
          reach,
        });
        const weight = boltzmann(temperature, 1000);
        for (let first = 0; first < width; first++) {
          for (let second = 0; second < width; second++) {
            const byClass = weights[classes.rowOf[first]! * classes.columns + classes.columnOf[second]!]!;
            const expected = weight(table[first * width + second]!);
            const found = byClass + (first + second === width - 1 ? extra[first]! : 0);
            expect(Math.abs(found - expected)).toBeLessThanOrEqual(1e-10 * expected);
          }
        }
      }),
      { numRuns: 500, seed: 42 },
    );
  });
});
