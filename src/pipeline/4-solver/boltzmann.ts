// Costs turned into weights exp(-cost / temperature), for the passes that add probabilities up. exp is built from
// arithmetic alone, so that engines whose Math.exp differ in the last bit still draw the same path from the same seed.
import { getOrMake, makeCache } from '../../cache';
import { barrier, type Lattice, type LatticeSlot, type StepRule } from './lattice';
import { unaryCosts } from './messages';

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

/** Natural; 0 for a weight of 0, which adds nothing to a sum of w log w. */
export const logarithm = (weight: number): number => (weight > 0 ? Math.log(weight) : 0);

/** Weights of what one slot pays by itself and on the step to the next. */
export interface SlotWeights {
  /** By placement. */
  readonly unary: Float64Array;
  /** By pitch and next pitch, row major. */
  readonly steps: Float64Array;
}

/** Slots, and tables of steps, that are kept: a long pass asks for each once. */
const mostSlots = 512;

/** The weights of a lattice at one temperature, made when they are first asked for. */
export class Weights {
  readonly temperature: number;
  readonly unit: number;
  readonly #weight: (cost: number) => number;
  readonly #parent: Weights | null;
  readonly #slots = makeCache<LatticeSlot, SlotWeights>({ most: mostSlots });
  readonly #steps = makeCache<Int32Array, Float64Array>({ most: mostSlots });
  readonly #tables = new Map<Int32Array, Float64Array>();
  readonly #rules = new WeakMap<StepRule, Float64Array>();
  readonly #logs = new WeakMap<Float64Array, Float64Array>();

  /**
   * @param unit integer cost units to one natural unit
   * @param parent weights at the same temperature of a lattice that shares slots and tables with this one
   */
  constructor(temperature: number, unit: number, parent: Weights | null = null) {
    this.temperature = temperature;
    this.unit = unit;
    this.#weight = boltzmann(temperature, unit);
    this.#parent = parent;
  }

  ofSlot(slot: LatticeSlot): SlotWeights {
    const found = this.#parent ? this.#parent.#slots.get(slot) : undefined;
    return found ?? getOrMake(this.#slots, slot, () => this.#weighSlot(slot));
  }

  #weighSlot(slot: LatticeSlot): SlotWeights {
    const { stepCosts } = slot;
    // The least unary cost of a slot is common to all its paths: left out, so that weights stay in range.
    const costs = unaryCosts(slot);
    const least = costs.reduce((a, b) => Math.min(a, b), barrier);
    for (let h = 0; h < costs.length; h++) costs[h] = costs[h]! - least;
    const found = this.#parent ? this.#parent.#steps.get(stepCosts) : undefined;
    const steps = found ?? getOrMake(this.#steps, stepCosts, () => this.#weigh(stepCosts));
    return { unary: this.#weigh(costs), steps };
  }

  /** Of a table of moves. */
  ofTable(costs: Int32Array): Float64Array {
    if (this.#parent) return this.#parent.ofTable(costs);
    return getOrMake(this.#tables, costs, () => this.#weigh(costs));
  }

  /** Of a rule, by memory state; 0 where the step may not be made. */
  ofRule(rule: StepRule): Float64Array {
    if (this.#parent) return this.#parent.ofRule(rule);
    return getOrMake(this.#rules, rule, () => this.#weigh(rule.costs));
  }

  /** Of weights that this gave, or its parent: their natural logarithms; 0 for a weight of 0. */
  logsOf(weights: Float64Array): Float64Array {
    if (this.#parent) return this.#parent.logsOf(weights);
    return getOrMake(this.#logs, weights, () => weights.map(logarithm));
  }

  /** Forgets what belongs to none of these lattices. */
  keepOnly(lattices: readonly Lattice[]): void {
    const isWanted = new Set<unknown>();
    for (const { slots } of lattices) {
      for (const slot of slots) isWanted.add(slot).add(slot.moves.costs).add(slot.stepCosts);
    }
    for (const slot of this.#slots.keys()) if (!isWanted.has(slot)) this.#slots.delete(slot);
    for (const costs of this.#steps.keys()) if (!isWanted.has(costs)) this.#steps.delete(costs);
    for (const costs of this.#tables.keys()) if (!isWanted.has(costs)) this.#tables.delete(costs);
  }

  /** Typed arrays held, for whoever counts memory. */
  get arrays(): readonly Float64Array[] {
    return [
      ...this.#tables.values(),
      ...this.#steps.values(),
      ...[...this.#slots.values()].map(({ unary }) => unary),
    ];
  }

  #weigh(costs: Int32Array): Float64Array {
    const result = new Float64Array(costs.length);
    let cost = Number.NaN;
    let value = 0;
    for (let index = 0; index < costs.length; index++) {
      // Equal costs come in runs.
      if (costs[index] !== cost) {
        cost = costs[index]!;
        value = this.#weight(cost);
      }
      result[index] = value;
    }
    return result;
  }
}

/** Divides all values by the largest. */
export function scaleToOne(values: Float64Array): void {
  let largest = 0;
  for (let index = 0; index < values.length; index++) if (values[index]! > largest) largest = values[index]!;
  if (largest === 0) return;
  const scale = 1 / largest;
  for (let index = 0; index < values.length; index++) values[index]! *= scale;
}
