// Sums of features: what is left out, weighed and rounded.
import { describe, expect, it } from 'vitest';
import {
  inMilli,
  itemsOf,
  milliPerUnit,
  ofThree,
  scaled,
  sumOfThree,
  sumOfTwo,
  type Feature,
} from '../../../src/pipeline/5-line/features';

const third: Feature<[number, number]> = { name: 'third', amount: (a, b) => (a + b) / 3 };
const twice: Feature<[number, number]> = { name: 'twice', amount: (a, b) => a * b, factor: 2 };
const never: Feature<[number, number]> = { name: 'never', amount: () => 0, factor: 5 };
const offset: Feature<[number, number, number]> = { name: 'offset', amount: (a, b, c) => a - b + c };
const share: Feature<[number, number, number]> = {
  name: 'share',
  amount: (a, b, c) => (a * b * c) / 7,
  factor: 0.5,
};

describe('a sum', () => {
  it('is in thousandths, each feature rounded by itself', () => {
    expect(milliPerUnit).toBe(1000);
    expect(inMilli(1 / 3)).toBe(333);
    expect(inMilli(-0.0006)).toBe(-1);
    expect(sumOfTwo([third, third], 1, 1)).toBe(1334);
    expect(sumOfTwo([third, twice, never], 1, 3)).toBe(1333 + 6000);
    expect(sumOfTwo([], 1, 3)).toBe(0);
  });

  it('of three arguments takes the factor where there is one', () => {
    expect(ofThree(offset, 1, 3, 4)).toBe(2000);
    expect(ofThree(offset, 1, 3, 2)).toBe(0);
    expect(ofThree(share, 2, 3, 5)).toBe(2143);
    expect(sumOfThree([offset, share], 2, 3, 5)).toBe(4000 + 2143);
  });

  it('is itemised without what is nothing', () => {
    expect(itemsOf([third, twice, never], 1, 3)).toEqual([
      { feature: 'third', amount: 1333 },
      { feature: 'twice', amount: 6000 },
    ]);
    expect(itemsOf([third, twice, never], 0, 0)).toEqual([]);
  });

  it('is weighed by a factor on top of its own', () => {
    const [plain, own] = scaled([third, twice], 3);
    expect(plain).toMatchObject({ name: 'third', factor: 3 });
    expect(own).toMatchObject({ name: 'twice', factor: 6 });
    expect(sumOfTwo([plain!, own!], 1, 3)).toBe(4000 + 18000);
  });
});
