// Turn costs in small: steps fall into classes, and what a turn costs follows from the classes of its two steps, but for a
// second step that takes the first one back:
//
//   S(i, j) = C(row(i), column(j))   unless  i + j = 0.
//
// Any table of turns is of this form: where no two steps cost the same, each is a class of its own. What it buys is that a
// sum over all pitches before is a sum by class, with one term corrected.

export interface TurnClasses {
  /** Class of each first step, from -reach to reach. */
  readonly rowOf: Int32Array;
  /** Class of each second step. */
  readonly columnOf: Int32Array;
  readonly rows: number;
  readonly columns: number;
  /** C, row major. */
  readonly costs: Int32Array;
}

/** A row of turn costs that stands for its class; `open` is the second step at which it is not decided, -1 for none. */
interface Base {
  readonly costs: Int32Array;
  open: number;
}

/** The class of rows that a row belongs to. @param back the second step that takes its first step back */
function findBase(bases: readonly Base[], row: Int32Array, back: number): Base | undefined {
  return bases.find(({ costs, open }) =>
    costs.every((cost, second) => second === back || second === open || cost === row[second]),
  );
}

/** Numbers for keys, in the order in which they come. */
function numbered(keys: Iterable<string>): { readonly numbers: Int32Array; readonly count: number } {
  const known = new Map<string, number>();
  const numbers: number[] = [];
  for (const key of keys) {
    const number = known.get(key) ?? known.size;
    known.set(key, number);
    numbers.push(number);
  }
  return { numbers: Int32Array.from(numbers), count: known.size };
}

function findClasses(turnCosts: Int32Array, reach: number): TurnClasses {
  const width = 2 * reach + 1;
  const bases: Base[] = [];
  const rowOf = new Int32Array(width);
  for (let first = 0; first < width; first++) {
    const row = turnCosts.slice(first * width, (first + 1) * width);
    const back = width - 1 - first;
    let base = findBase(bases, row, back);
    if (!base) {
      base = { costs: row, open: back };
      bases.push(base);
    } else if (base.open >= 0 && base.open !== back) {
      base.costs[base.open] = row[base.open]!;
      base.open = -1;
    }
    rowOf[first] = bases.indexOf(base);
  }
  const columnKeys = Array.from({ length: width }, (_, second) =>
    bases.map(({ costs }) => costs[second]!).join(),
  );
  const { numbers: columnOf, count: columns } = numbered(columnKeys);
  const costs = new Int32Array(bases.length * columns);
  bases.forEach((base, row) => {
    base.costs.forEach((cost, second) => (costs[row * columns + columnOf[second]!] = cost));
  });
  return { rowOf, columnOf, rows: bases.length, columns, costs };
}

const known = new WeakMap<Int32Array, TurnClasses>();

/** Classes of a table of turns, looked for once. */
export function turnClasses(turnCosts: Int32Array, reach: number): TurnClasses {
  const found = known.get(turnCosts) ?? findClasses(turnCosts, reach);
  known.set(turnCosts, found);
  return found;
}

/** Every step a class of its own: no term has to be corrected. */
export function plainClasses(turnCosts: Int32Array, reach: number): TurnClasses {
  const width = 2 * reach + 1;
  const own = Int32Array.from({ length: width }, (_, step) => step);
  return { rowOf: own, columnOf: own, rows: width, columns: width, costs: turnCosts };
}

/** By first step: S of taking it back, less what C says. */
export function takenBackCosts(
  turnCosts: Int32Array,
  { rowOf, columnOf, columns, costs }: TurnClasses,
): Int32Array {
  const width = rowOf.length;
  return rowOf.map((row, first) => {
    const back = width - 1 - first;
    return turnCosts[first * width + back]! - costs[row * columns + columnOf[back]!]!;
  });
}
