// A feature is a named amount added to the cost of a line. The same functions fill the lattice and itemise the result,
// so the items of a line add up to what the solver minimised.
import { milli, type Milli } from '../../../music';

export interface Feature<Arguments extends readonly unknown[]> {
  /** In the words of the cost list. */
  readonly name: string;
  /** In natural units; 0 where the feature does not apply. */
  readonly amount: (...args: Arguments) => number;
}

/** Integer units to one natural unit of cost. */
export const milliPerUnit = 1000;

/** One feature's amount in thousandths. Rounding each feature by itself keeps item sums exact. */
export const inMilli = (amount: number): Milli => milli(amount * milliPerUnit);

/** Sum of all features of a family, each rounded by itself. */
export function sumOf<A extends readonly unknown[]>(features: readonly Feature<A>[], ...args: A): number {
  let total = 0;
  for (const feature of features) total += inMilli(feature.amount(...args));
  return total;
}

/** The features of a family that are not 0 here. */
export const itemsOf = <A extends readonly unknown[]>(
  features: readonly Feature<A>[],
  ...args: A
): { feature: string; amount: Milli }[] =>
  features
    .map((feature) => ({ feature: feature.name, amount: inMilli(feature.amount(...args)) }))
    .filter((item) => item.amount !== 0);

/** The same features, each weighed by a factor. */
export const scaled = <A extends readonly unknown[]>(
  features: readonly Feature<A>[],
  factor: number,
): Feature<A>[] =>
  features.map(({ name, amount }) => ({ name, amount: (...args: A) => amount(...args) * factor }));
