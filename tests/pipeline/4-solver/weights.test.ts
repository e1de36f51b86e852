import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { infinite, Weights, type Lattice, type LatticeSlot } from '../../../src/pipeline/4-solver';
import { exponential, scaleToOne } from '../../../src/pipeline/4-solver/boltzmann';

const rule = { next: Uint16Array.of(0, 1), costs: Int32Array.of(0, infinite) };
const moves = { costs: Int32Array.of(0, 500, infinite, 0) };

/** Two pitches with a placement each; the first is the cheaper by 2000. */
const slotOf = (extra: number): LatticeSlot => ({
  pitches: Int32Array.of(40, 43),
  pitchCosts: Int32Array.of(1000 + extra, 2500 + extra),
  placements: Int32Array.of(0, 1),
  placementCosts: Int32Array.of(200, 700),
  groupStart: Int32Array.of(0, 1, 2),
  stepCosts: Int32Array.of(0, 1000, 1000, infinite),
  rules: [rule],
  ruleOf: new Uint16Array(4),
  moves,
});
const latticeOf = (...slots: readonly LatticeSlot[]): Lattice => ({
  slots,
  placementCount: 2,
  memoryCount: 2,
  startMemory: 0,
});

const closeTo = (values: Float64Array, expected: readonly number[]): void => {
  expect([...values]).toEqual(expected.map((value): unknown => expect.closeTo(value, 10)));
};

describe('weights', () => {
  const weights = new Weights(2, 1000);

  it('are exp(-cost / temperature) in natural units, by slot less the least cost of the slot', () => {
    for (const extra of [0, -40_000, 900_000]) {
      const { unary, steps } = weights.ofSlot(slotOf(extra));
      closeTo(unary, [1, Math.exp(-1)]);
      closeTo(steps, [1, Math.exp(-0.5), Math.exp(-0.5), 0]);
    }
  });

  it('are 0 for what may not be done', () => {
    closeTo(weights.ofRule(rule), [1, 0]);
    closeTo(weights.ofTable(moves.costs), [1, Math.exp(-0.25), 0, 1]);
    const blocked = { ...slotOf(0), pitchCosts: Int32Array.of(infinite, 0) };
    closeTo(weights.ofSlot(blocked).unary, [0, 1]);
  });

  it('are worked out once for what is the same, and once for lattices that share it', () => {
    const slot = slotOf(0);
    const child = new Weights(2, 1000, weights);
    const { steps } = weights.ofSlot(slot);
    expect(weights.ofSlot(slot)).toBe(weights.ofSlot(slot));
    expect(weights.ofSlot({ ...slot }).steps).toBe(steps);
    expect(child.ofSlot(slot)).toBe(weights.ofSlot(slot));
    expect(child.ofSlot({ ...slot, pitchCosts: Int32Array.of(0, 0) }).steps).toBe(steps);
    expect(child.ofRule(rule)).toBe(weights.ofRule(rule));
    expect(child.ofTable(moves.costs)).toBe(weights.ofTable(moves.costs));
    expect(child.arrays).not.toContain(steps);
    const own = slotOf(1);
    expect(child.ofSlot(own)).toBe(child.ofSlot(own));
    expect(weights.arrays).not.toContain(child.ofSlot(own).unary);
  });

  it('are forgotten with the lattices they belong to', () => {
    const held = new Weights(1, 1000);
    const [here, gone] = [slotOf(0), { ...slotOf(1), moves: { costs: moves.costs.slice() } }];
    const arraysOf = (slot: LatticeSlot): readonly Float64Array[] => {
      const { unary, steps } = held.ofSlot(slot);
      return [unary, steps, held.ofTable(slot.moves.costs)];
    };
    const [kept, others] = [arraysOf(here), arraysOf(gone)];
    expect(new Set(held.arrays)).toEqual(new Set([...kept, ...others]));
    held.keepOnly([latticeOf(here), latticeOf(here)]);
    expect(new Set(held.arrays)).toEqual(new Set(kept));
    expect(held.arrays).toHaveLength(3);
    arraysOf(here).forEach((array, index) => {
      expect(array).toBe(kept[index]);
    });
    arraysOf(gone).forEach((array, index) => {
      expect(array).not.toBe(others[index]);
    });
    held.keepOnly([]);
    expect(held.arrays).toEqual([]);
  });
});

describe('the smallest weight', () => {
  it('is that of a cost of 700 natural units; what is less is nothing', () => {
    expect(exponential(-700) / Math.exp(-700)).toBeCloseTo(1, 10);
    expect(exponential(-701)).toBe(0);
  });
});

describe('scaled weights', () => {
  it('have 1 as their largest and the same proportions', () => {
    const weight = fc.double({ min: 0, max: 1e300, noNaN: true });
    fc.assert(
      fc.property(fc.array(weight, { minLength: 1 }), (values) => {
        const scaled = Float64Array.from(values);
        scaleToOne(scaled);
        const largest = Math.max(...values);
        if (largest < 1e-300) return;
        values.forEach((value, index) => {
          expect(scaled[index]).toBeCloseTo(value / largest, 12);
        });
      }),
      { seed: 3 },
    );
  });

  it('stay as they are where all are 0', () => {
    const none = new Float64Array(3);
    scaleToOne(none);
    expect([...none]).toEqual([0, 0, 0]);
  });
});
