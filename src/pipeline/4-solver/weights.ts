// Costs turned into weights exp(-cost / temperature), for the passes that add probabilities up. exp is built from
// arithmetic alone, so that engines whose Math.exp differ in the last bit still draw the same path from the same seed.
import { pitchOfPlacement, type Lattice, type MoveTable } from './lattice';

/** Weights below this are nothing: at temperature 1 it is a cost of 700 in natural units. */
const smallestExponent = -700;

/** A function exp(-cost / temperature) for integer costs of `unit` to the natural unit, exact to rounding. */
export function boltzmann(temperature: number, unit: number): (cost: number) => number {
  const perCost = 1 / (unit * temperature);
  return (cost) => exponential(-cost * perCost);
}

/** e^x by argument halving and the Taylor series; arithmetic only, relative error under 1e-11. */
export function exponential(x: number): number {
  if (x < smallestExponent) return 0;
  let halvings = 0;
  let reduced = x;
  while (reduced > 0.125 || reduced < -0.125) {
    reduced /= 2;
    halvings++;
  }
  let term = 1;
  let sum = 1;
  for (let k = 1; k <= 10; k++) {
    term *= reduced / k;
    sum += term;
  }
  for (; halvings > 0; halvings--) sum *= sum;
  return sum;
}

/** The lattice with weights in place of costs. */
export interface Weighted {
  readonly unary: Float64Array[];
  readonly steps: Float64Array[];
  readonly moves: Float64Array[];
  readonly turns: Float64Array;
}

function weigh(costs: Int32Array, weight: (cost: number) => number): Float64Array {
  const result = new Float64Array(costs.length);
  let cost = Number.NaN;
  let value = 0;
  for (let index = 0; index < costs.length; index++) {
    // Equal costs come in runs.
    if (costs[index] !== cost) {
      cost = costs[index]!;
      value = weight(cost);
    }
    result[index] = value;
  }
  return result;
}

/** Weights exp(-cost / temperature) of everything in a lattice. */
export function weightedLattice(lattice: Lattice, weight: (cost: number) => number): Weighted {
  const moveWeights = new Map<MoveTable, Float64Array>();
  const movesOf = (table: MoveTable): Float64Array => {
    const found = moveWeights.get(table) ?? weigh(table.costs, weight);
    moveWeights.set(table, found);
    return found;
  };
  return {
    unary: lattice.slots.map((slot) => {
      const pitchOf = pitchOfPlacement(slot);
      // The least unary cost of a slot is common to all its paths: left out, so that weights stay in range.
      const costs = slot.placementCosts.map((cost, h) => cost + slot.pitchCosts[pitchOf[h]!]!);
      const floor = costs.reduce((a, b) => Math.min(a, b));
      return weigh(
        costs.map((cost) => cost - floor),
        weight,
      );
    }),
    steps: lattice.slots.map((slot) => weigh(slot.stepCosts, weight)),
    moves: lattice.slots.map((slot) => movesOf(slot.moves)),
    turns: weigh(lattice.turnCosts, weight),
  };
}

/** Divides all values by the largest. */
export function scaleToOne(values: Float64Array): void {
  let largest = 0;
  for (let index = 0; index < values.length; index++) if (values[index]! > largest) largest = values[index]!;
  if (largest === 0) return;
  const scale = 1 / largest;
  for (let index = 0; index < values.length; index++) values[index]! *= scale;
}
