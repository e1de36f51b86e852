// A feature is a named amount added to the cost of a line. The same functions fill the lattice and itemise the result,
// so the items of a line add up to what the solver minimised.
import { milli, type Milli } from '../../../music';

export interface Feature<Arguments extends readonly unknown[]> {
  /** In the words of the cost list. */
  readonly name: string;
  /** In natural units; 0 where the feature does not apply. */
  readonly amount: (...args: Arguments) => number;
  /** Weighs the amount; 1 when left out. */
  readonly factor?: number;
}

/** Integer units to one natural unit of cost. */
export const milliPerUnit = 1000;

/** One feature's amount in thousandths. Rounding each feature by itself keeps item sums exact. */
export const inMilli = (amount: number): Milli => milli(amount * milliPerUnit);

const amountOf = <A extends readonly unknown[]>(feature: Feature<A>, args: A): Milli =>
  inMilli(feature.amount(...args) * (feature.factor ?? 1));

// Sums are taken hundreds of thousands of times for a lattice: written out by number of arguments, nothing is packed.

/** Sum of all features of a family of two arguments, each rounded by itself. */
export function sumOfTwo<A, B>(features: readonly Feature<[A, B]>[], a: A, b: B): number {
  let total = 0;
  for (const { amount, factor } of features) {
    const value = amount(a, b);
    if (value !== 0) total += inMilli(value * (factor ?? 1));
  }
  return total;
}

/** One feature of a family of three arguments. */
export function ofThree<A, B, C>({ amount, factor }: Feature<[A, B, C]>, a: A, b: B, c: C): number {
  const value = amount(a, b, c);
  return value === 0 ? 0 : inMilli(value * (factor ?? 1));
}

/** Sum of all features of a family of three arguments, each rounded by itself. */
export function sumOfThree<A, B, C>(features: readonly Feature<[A, B, C]>[], a: A, b: B, c: C): number {
  let total = 0;
  for (const feature of features) total += ofThree(feature, a, b, c);
  return total;
}

/** The features of a family that are not 0 here. */
export const itemsOf = <A extends readonly unknown[]>(
  features: readonly Feature<A>[],
  ...args: A
): { feature: string; amount: Milli }[] =>
  features
    .map((feature) => ({ feature: feature.name, amount: amountOf(feature, args) }))
    .filter((item) => item.amount !== 0);

/** The same features, each weighed by a factor. */
export const scaled = <F extends { readonly factor?: number }>(features: readonly F[], factor: number): F[] =>
  features.map((feature) => ({ ...feature, factor: (feature.factor ?? 1) * factor }));
