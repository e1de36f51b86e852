// Exact probabilities of every step with the memory before it, hand and all, when lines are drawn from
// exp(-cost / temperature): forward filtering, and backward weights by the mirror image,
//
//   K(q, h)       = sum over h' with pitch n of  v(h, h') unary(h') beta_{t+1}(q, h')
//   beta_t(g, h)  = sum over n of  s(rule, g) r(b, n) K(next(rule, g), h)
//   P(g, b, n)   ~  s(rule, g) r(b, n) sum over h with pitch b of  f_t(g, h) K(next(rule, g), h)
//
// (forward-backward: Rabiner 1989, Proc. IEEE 77).
import { filteredWeights } from '../../pipeline/4-solver/filtering';
import { moveIndex, rowsAt, stateCount, Weights, type Lattice } from '../../pipeline/4-solver';

/** Told the probability that slot t has pitch b (index) in memory g and the next slot pitch n. */
export type VisitStep = (t: number, g: number, b: number, n: number, probability: number) => void;

/** Costs to one natural unit. */
const unit = 1000;

interface Backward {
  readonly beta: Float64Array;
  /** By (g, b, n) of the slot: weight, unscaled. */
  readonly steps: { readonly g: number; readonly b: number; readonly n: number; readonly weight: number }[];
}

function backwardStep(
  lattice: Lattice,
  weights: Weights,
  t: number,
  filtered: Float64Array,
  after: Float64Array,
): Backward {
  const { placementCount } = lattice;
  const count = rowsAt(lattice, t);
  const { pitches, placements, groupStart, moves, rules, ruleOf } = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const { steps: stepWeights } = weights.ofSlot(lattice.slots[t]!);
  const { unary } = weights.ofSlot(next);
  const table = weights.ofTable(moves.costs);
  const width = placements.length;
  const ahead = after.map((weight, state) => weight * unary[state % unary.length]!);
  const beta = new Float64Array(stateCount(lattice, t));
  const steps: Backward['steps'] = [];
  const rows = new Map<number, Float64Array>();
  for (let b = 0; b < pitches.length; b++) {
    const first = groupStart[b]!;
    const size = groupStart[b + 1]! - first;
    for (let n = 0; n < next.pitches.length; n++) {
      const step = stepWeights[b * next.pitches.length + n]!;
      if (step === 0) continue;
      const rule = rules[ruleOf[b * next.pitches.length + n]!]!;
      const ruleWeights = weights.ofRule(rule);
      rows.clear();
      for (let g = 0; g < count; g++) {
        const own = ruleWeights[g]! * step;
        if (own === 0) continue;
        const q = rule.next[g]!;
        let row = rows.get(q);
        if (!row) {
          row = new Float64Array(size);
          for (let k = 0; k < size; k++) {
            const placement = placements[first + k]!;
            let sum = 0;
            for (let to = next.groupStart[n]!; to < next.groupStart[n + 1]!; to++) {
              const move = table[moveIndex(moves, placementCount, placement, next.placements[to]!)]!;
              sum += move * ahead[q * unary.length + to]!;
            }
            row[k] = sum;
          }
          rows.set(q, row);
        }
        let mass = 0;
        for (let k = 0; k < size; k++) {
          const weight = own * row[k]!;
          beta[g * width + first + k] = beta[g * width + first + k]! + weight;
          mass += filtered[g * width + first + k]! * weight;
        }
        if (mass > 0) steps.push({ g, b, n, weight: mass });
      }
    }
  }
  const largest = beta.reduce((a, b) => Math.max(a, b), 0);
  return { beta: largest > 0 ? beta.map((weight) => weight / largest) : beta, steps };
}

/** Visits all steps of a lattice, the last ones first. */
export function visitSteps(lattice: Lattice, temperature: number, visit: VisitStep): void {
  const weights = new Weights(temperature, unit);
  const plain: Lattice = { ...lattice, cache: undefined as unknown as object };
  const filtered = filteredWeights(plain, weights);
  let beta = new Float64Array(stateCount(lattice, lattice.slots.length - 1)).fill(1);
  for (let t = lattice.slots.length - 2; t >= 0; t--) {
    const made = backwardStep(lattice, weights, t, filtered.at(t), beta);
    const all = made.steps.reduce((sum, { weight }) => sum + weight, 0);
    for (const { g, b, n, weight } of made.steps) visit(t, g, b, n, weight / all);
    beta = made.beta as Float64Array<ArrayBuffer>;
  }
}
