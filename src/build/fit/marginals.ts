// Exact probabilities of any three pitches in a row, hand and all, when lines are drawn from exp(-cost / temperature).
//
// Forward and backward sums over states (m_{t-1}, h_t) with the two-step elimination of the solver:
//
//   K_t(h, n)     = sum over h' with pitch n of  move(h, h') unary(h') beta_{t+1}(p(h), h')
//   beta_t(m, h)  = sum over n of  turn(m, p(h), n) step(p(h), n) K_t(h, n)
//   P(m, b, n)   ~  turn(m, b, n) step(b, n)  sum over h with pitch b of  alpha_t(m, h) K_t(h, n)
import type { Lattice } from '../../pipeline/4-solver';
import type { MusicCosts } from './model';

/**
 * Probabilities of pitches m, b, n (indices) at slots t - 1, t, t + 1, for one t and b: row m, column n. At the first slot
 * there is one row that stands for no pitch.
 */
export type VisitTriples = (t: number, b: number, triples: Float64Array) => void;

interface Weighted {
  readonly unary: readonly Float64Array[];
  readonly step: readonly Float64Array[];
  readonly turn: Float64Array;
  readonly moves: readonly Float64Array[];
}

const milli = 1000;
const weigh = (costs: ArrayLike<number>, perUnit: number): Float64Array =>
  Float64Array.from(costs, (cost) => Math.exp(-cost * perUnit));

function scaleToOne(values: Float64Array): Float64Array {
  const largest = values.reduce((a, b) => Math.max(a, b), 0);
  return largest > 0 ? values.map((value) => value / largest) : values;
}

/** Weights of moves do not change while the music's terms are fitted: made once for a lattice and temperature. */
export function moveWeights(lattice: Lattice, temperature: number): readonly Float64Array[] {
  const known = new Map<Int32Array, Float64Array>();
  return lattice.slots.map(({ moves }) => {
    const found = known.get(moves.costs) ?? weigh(moves.costs, 1 / (milli * temperature));
    known.set(moves.costs, found);
    return found;
  });
}

function weighted(
  lattice: Lattice,
  costs: MusicCosts,
  moves: readonly Float64Array[],
  temperature: number,
): Weighted {
  return {
    moves,
    unary: lattice.slots.map((slot, t) => {
      const sums = new Float64Array(slot.placements.length);
      costs.pitch[t]!.forEach((cost, p) => {
        for (let h = slot.groupStart[p]!; h < slot.groupStart[p + 1]!; h++) {
          sums[h] = cost + slot.placementCosts[h]! / milli;
        }
      });
      return weigh(sums, 1 / temperature);
    }),
    step: costs.step.map((step) => weigh(step, 1 / temperature)),
    turn: weigh(costs.turn, 1 / temperature),
  };
}

/** Weight of going on to pitch n after m, b: step and turn, by row m and column n, for one b. */
function onward(lattice: Lattice, weights: Weighted, t: number, b: number): Float64Array {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const before = lattice.slots[t - 1]?.pitches;
  const width = 2 * lattice.reach + 1;
  const columns = next.pitches.length;
  const result = new Float64Array((before?.length ?? 1) * columns);
  for (let index = 0; index < result.length; index++) {
    const n = index % columns;
    const step = weights.step[t]![b * columns + n]!;
    if (!before) {
      result[index] = step;
      continue;
    }
    const first = slot.pitches[b]! - before[Math.floor(index / columns)]! + lattice.reach;
    result[index] = step * weights.turn[first * width + next.pitches[n]! - slot.pitches[b]! + lattice.reach]!;
  }
  return result;
}

/** K_t, row h, column n. */
function wayOn(lattice: Lattice, weights: Weighted, t: number, beta: Float64Array): Float64Array {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const columns = next.pitches.length;
  const width = next.placements.length;
  const moves = weights.moves[t]!;
  const unary = weights.unary[t + 1]!;
  const result = new Float64Array(slot.placements.length * columns);
  for (let b = 0; b < slot.pitches.length; b++) {
    const ahead = unary.map((weight, to) => weight * beta[b * width + to]!);
    for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
      const row = slot.placements[h]! * lattice.placementCount;
      for (let n = 0; n < columns; n++) {
        let sum = 0;
        for (let to = next.groupStart[n]!; to < next.groupStart[n + 1]!; to++) {
          sum += moves[row + next.placements[to]!]! * ahead[to]!;
        }
        result[h * columns + n] = sum;
      }
    }
  }
  return result;
}

function backward(lattice: Lattice, weights: Weighted): Float64Array[] {
  const last = lattice.slots.length - 1;
  const ways = new Array<Float64Array>(last);
  const sizeOf = (t: number): number =>
    (lattice.slots[t - 1]?.pitches.length ?? 1) * lattice.slots[t]!.placements.length;
  let beta = new Float64Array(sizeOf(last)).fill(1);
  for (let t = last - 1; t >= 0; t--) {
    const slot = lattice.slots[t]!;
    const columns = lattice.slots[t + 1]!.pitches.length;
    const placements = slot.placements.length;
    const way = wayOn(lattice, weights, t, beta);
    const sums = new Float64Array(sizeOf(t));
    for (let b = 0; b < slot.pitches.length; b++) {
      const on = onward(lattice, weights, t, b);
      for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
        for (let m = 0; m * columns < on.length; m++) {
          let sum = 0;
          for (let n = 0; n < columns; n++) sum += on[m * columns + n]! * way[h * columns + n]!;
          sums[m * placements + h] = sum;
        }
      }
    }
    ways[t] = way;
    beta = scaleToOne(sums) as Float64Array<ArrayBuffer>;
  }
  return ways;
}

/** Visits any three pitches in a row with their probabilities; at each slot but the last they sum to 1. */
export function visitTriples(
  lattice: Lattice,
  costs: MusicCosts,
  moves: readonly Float64Array[],
  temperature: number,
  visit: VisitTriples,
): void {
  const weights = weighted(lattice, costs, moves, temperature);
  const ways = backward(lattice, weights);
  let alpha = weights.unary[0]!;
  for (let t = 0; t + 1 < lattice.slots.length; t++) {
    const slot = lattice.slots[t]!;
    const next = lattice.slots[t + 1]!;
    const columns = next.pitches.length;
    const width = next.placements.length;
    const placements = slot.placements.length;
    const following = new Float64Array(slot.pitches.length * width);
    const joint: Float64Array[] = [];
    let total = 0;
    for (let b = 0; b < slot.pitches.length; b++) {
      const on = onward(lattice, weights, t, b);
      const triples = new Float64Array(on.length);
      for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
        const reached = new Float64Array(columns);
        for (let m = 0; m * columns < on.length; m++) {
          const weight = alpha[m * placements + h]!;
          for (let n = 0; n < columns; n++) {
            const through = weight * on[m * columns + n]!;
            reached[n]! += through;
            triples[m * columns + n]! += through * ways[t]![h * columns + n]!;
          }
        }
        const row = slot.placements[h]! * lattice.placementCount;
        for (let n = 0; n < columns; n++) {
          for (let to = next.groupStart[n]!; to < next.groupStart[n + 1]!; to++) {
            following[b * width + to]! += reached[n]! * weights.moves[t]![row + next.placements[to]!]!;
          }
        }
      }
      joint.push(triples);
      total = triples.reduce((sum, value) => sum + value, total);
    }
    joint.forEach((triples, b) =>
      visit(
        t,
        b,
        triples.map((value) => value / total),
      ),
    );
    alpha = scaleToOne(following.map((value, index) => value * weights.unary[t + 1]![index % width]!));
  }
}
