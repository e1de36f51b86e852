// Tables of weights: nested lists and records of numbers, which the fit moves in place, where the features read them.

const decimals = 3;

/** Energies stay within this of nothing: figures that the rules keep from being met pull without end. */
const mostEnergy = 5;

/**
 * The same energies of pairs with every first step at the same mean, in place. A step is the second of one pair and the first
 * of the next, so what is taken from all pairs that begin with it and given to all that end with it changes no line but at its
 * ends; left alone it drifts until a whole row lies at the bound, and tells its cells apart no more.
 */
export function centre(pairs: number[][][]): void {
  const means = pairs.map((row) => meanOf(row.flat()));
  pairs.forEach((row, first) =>
    row.forEach((cell, second) => cell.forEach((_, back) => (cell[back]! += means[second]! - means[first]!))),
  );
}

/** Every number of the fitted tables within bounds, in place. */
export function bound(value: unknown): void {
  if (Array.isArray(value)) {
    value.forEach((one: unknown, index) => {
      if (typeof one === 'number') value[index] = Math.min(Math.max(one, -mostEnergy), mostEnergy);
      else bound(one);
    });
  }
}

/**
 * The mean of tables of one form, number by number: of the later rounds it has less chance in it than the last of them (Polyak &
 * Juditsky 1992, SIAM Journal on Control and Optimization 30).
 */
export function meanOf<T>(tables: readonly T[]): T {
  const [first] = tables;
  if (typeof first === 'number')
    return ((tables as readonly number[]).reduce((sum, value) => sum + value, 0) / tables.length) as T;
  if (Array.isArray(first))
    return first.map((_, index) => meanOf(tables.map((one) => (one as readonly unknown[])[index]))) as T;
  if (first === null || typeof first !== 'object') return first!;
  const entries = Object.keys(first).map((key) => [
    key,
    meanOf(tables.map((one) => (one as Record<string, unknown>)[key])),
  ]);
  return Object.fromEntries(entries) as T;
}

/** Gives every number of a table the value that it has in another of its form, in place: the features read it there. */
export function setTo(table: object, values: object): void {
  for (const [key, value] of Object.entries(values)) {
    if (typeof value === 'object' && value !== null)
      setTo(Reflect.get(table, key) as object, value as object);
    else Reflect.set(table, key, value);
  }
}

/** Every number as the file has it. */
export const rounded = <T>(value: T): T => {
  if (typeof value === 'number') return Number(value.toFixed(decimals)) as T;
  if (Array.isArray(value)) return value.map(rounded) as T;
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, rounded(inner)])) as T;
};
