import { describe, expect, it } from 'vitest';
import { boltzmann, exponential, infinite } from '../../../src/pipeline/4-solver';

describe('exponential', () => {
  it('agrees with the engine over the range that weights use', () => {
    for (let x = -690; x <= 40; x += 0.37) {
      expect(Math.abs(exponential(x) / Math.exp(x) - 1)).toBeLessThan(1e-11);
    }
    expect(exponential(0)).toBe(1);
    expect(exponential(-1e9)).toBe(0);
  });
});

describe('boltzmann', () => {
  it('weighs a cost by its natural units over the temperature', () => {
    for (const temperature of [0.3, 1, 2]) {
      const weight = boltzmann(temperature, 1000);
      for (const cost of [-2500, 0, 1, 700, 12_345])
        expect(weight(cost) / Math.exp(-cost / 1000 / temperature)).toBeCloseTo(1, 10);
      expect(weight(infinite)).toBe(0);
    }
  });
});
