// The best line by linear programming: one unit of flow from source to target over the lattice written out as a layered
// graph. A minimum-cost flow of one unit has an integral optimum, so the program's value is the cost of the best path.
import highsLoader from 'highs';
import type { Lattice } from '../../src/pipeline/4-solver';
import { stateLayers, type Layers } from './layers';

export interface LpAnswer {
  readonly cost: number;
  /** Variables: arcs. */
  readonly columns: number;
  /** Constraints: nodes that can be reached. */
  readonly rows: number;
  /** Milliseconds in the solver alone, loading and writing out left aside. */
  readonly milliseconds: number;
}

interface Program {
  /** Nodes that can be reached; the source is the first one. */
  readonly rows: number;
  readonly target: number;
  readonly costs: Float64Array;
  readonly starts: Int32Array;
  readonly indices: Int32Array;
  readonly values: Float64Array;
}

/** One column an arc: -1 at the node it leaves, +1 at the node it enters. */
function programOf(layers: Layers): Program {
  const costs: number[] = [];
  const indices: number[] = [];
  const rowOf = new Map([[layers.source, 0]]);
  // Nodes are met in the order in which they are numbered; a map is read on while it grows.
  for (const [from, row] of rowOf) {
    layers.forEachArc(from, (to, cost) => {
      const entered = rowOf.get(to) ?? rowOf.size;
      rowOf.set(to, entered);
      costs.push(cost);
      indices.push(row, entered);
    });
  }
  return {
    rows: rowOf.size,
    target: rowOf.get(layers.target) ?? -1,
    costs: Float64Array.from(costs),
    starts: Int32Array.from({ length: costs.length + 1 }, (_, arc) => 2 * arc),
    indices: Int32Array.from(indices),
    values: Float64Array.from(indices, (_, entry) => (entry % 2 === 0 ? -1 : 1)),
  };
}

/** Null when every path is blocked. @param clock milliseconds */
export async function solveByLp(
  lattice: Lattice,
  clock: () => number = () => 0,
  write: (lattice: Lattice) => Layers = stateLayers,
): Promise<LpAnswer | null> {
  const layers = write(lattice);
  const { rows, target, costs, starts, indices, values } = programOf(layers);
  if (target < 0) return null;
  const columns = costs.length;
  const balance = new Float64Array(rows);
  balance[0] = -1;
  balance[target] = 1;
  const highs = await highsLoader();
  return highs.withModel(
    {
      numCols: columns,
      numRows: rows,
      colCost: costs,
      colLower: new Float64Array(columns),
      colUpper: new Float64Array(columns).fill(highs.infinity),
      rowLower: balance,
      rowUpper: balance,
      matrix: { format: 'csc', numRows: rows, numCols: columns, starts, indices, values },
    },
    (model) => {
      model.options.set('output_flag', false);
      const start = clock();
      const { modelStatus } = model.run();
      const milliseconds = clock() - start;
      if (modelStatus !== highs.constants.modelStatus.optimal) return null;
      return { cost: model.info.get('objective_function_value') as number, columns, rows, milliseconds };
    },
  );
}
