// Elbow room: how many good ways on there are from a state.
//
// Paths are drawn with probability proportional to exp(-cost / temperature). From state (m, h) at slot t the next
// placement follows p(h' | m, h) = w(h') / Z with
//
//   w(h') = u(m, b, n) r(b, n) v(h, h') a(h') b(h') beta_{t+1}(b, h'),   b = pitch(h), n = pitch(h')
//
// Its entropy is log Z - (sum w log w) / Z, and by the chain rule the entropy of the next k slots is
//
//   E_k(m, h) = H(m, h) + sum over h' of p(h' | m, h) E_{k-1}(b, h').
//
// log w is a sum of a part that knows h' and a part that knows m and n only, so all sums over h' are taken once for each
// (h, n) and then combined over n for each m: the two steps of minimum.ts again.
import { keptOf } from './kept';
import type { Lattice } from './lattice';
import { rowCount, stateCount, turnStarts } from './minimum';
import { weightsFor } from './sample';
import { scaleToOne, type Weights } from './weights';

/** Entropies of one slot in bits, row m, column h. */
export type Entropies = Float64Array;

/** What the slots from t on know: weights of all that follows and entropies by slots looked ahead. */
interface Ahead {
  readonly beta: Float64Array;
  /** E_1 to E_window. */
  readonly entropies: readonly Entropies[];
}

/** Sums over the placements of one pitch, for one h: weights, weights times their logarithm, weights times E_j. */
interface GroupSums {
  readonly weight: Float64Array;
  readonly weightLog: Float64Array;
  /** By number of slots already looked ahead, then by next pitch. */
  readonly entropy: readonly Float64Array[];
}

const logarithms = (weights: Float64Array): Float64Array =>
  weights.map((weight) => (weight > 0 ? Math.log(weight) : 0));

/** Sums over h' for every placement h with pitch b, given w(h') without the melody, and its logarithm, by parts. */
function gather(
  lattice: Lattice,
  weights: Weights,
  t: number,
  h: number,
  ahead: Float64Array,
  entropies: readonly Float64Array[],
  sums: GroupSums,
): void {
  const slot = lattice.slots[t]!;
  const { placements: targets, groupStart, pitches } = lattice.slots[t + 1]!;
  const moveRow = slot.placements[h]! * lattice.placementCount;
  const moves = weights.ofTable(slot.moves.costs);
  const { weight, weightLog, entropy } = sums;
  const own = new Float64Array(targets.length);
  for (let to = 0; to < targets.length; to++) own[to] = moves[moveRow + targets[to]!]! * ahead[to]!;
  const logs = logarithms(own);
  for (let n = 0; n < pitches.length; n++) {
    const end = groupStart[n + 1]!;
    let total = 0;
    let totalLog = 0;
    for (let to = groupStart[n]!; to < end; to++) {
      total += own[to]!;
      totalLog += own[to]! * logs[to]!;
    }
    weight[n] = total;
    weightLog[n] = totalLog;
    for (let k = 0; k < entropy.length; k++) {
      const onward = entropies[k]!;
      let sum = 0;
      for (let to = groupStart[n]!; to < end; to++) sum += own[to]! * onward[to]!;
      entropy[k]![n] = sum;
    }
  }
}

/** Weights of going on through pitch b: row m, column n, step and turn. */
function onward(lattice: Lattice, weights: Weights, t: number, b: number): Float64Array {
  const { pitches: targets } = lattice.slots[t + 1]!;
  const { steps } = weights.ofSlot(lattice.slots[t]!);
  const turnWeights = weights.ofTable(lattice.turnCosts);
  const turns = turnStarts(lattice, t, b);
  const result = new Float64Array(rowCount(lattice, t) * targets.length);
  for (let index = 0; index < result.length; index++) {
    const n = index % targets.length;
    const turn = turns[Math.floor(index / targets.length)];
    const step = steps[b * targets.length + n]!;
    result[index] = turn === undefined ? step : step * turnWeights[turn + targets[n]!]!;
  }
  return result;
}

function stepBack(lattice: Lattice, weights: Weights, t: number, after: Ahead, window: number): Ahead {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const placements = slot.placements.length;
  const columns = next.pitches.length;
  const width = next.placements.length;
  const rows = rowCount(lattice, t);
  const { unary } = weights.ofSlot(next);
  const beta = new Float64Array(rows * placements);
  const entropies = Array.from({ length: window }, () => new Float64Array(rows * placements));
  const sums: GroupSums = {
    weight: new Float64Array(columns),
    weightLog: new Float64Array(columns),
    entropy: Array.from({ length: window - 1 }, () => new Float64Array(columns)),
  };
  for (let b = 0; b < slot.pitches.length; b++) {
    const factors = onward(lattice, weights, t, b);
    const factorLogs = logarithms(factors);
    const states = [b * width, (b + 1) * width] as const;
    const ahead = after.beta.slice(...states).map((weight, to) => weight * unary[to]!);
    const entropiesAhead = after.entropies.map((one) => one.subarray(...states));
    for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
      gather(lattice, weights, t, h, ahead, entropiesAhead, sums);
      for (let m = 0; m < rows; m++) {
        let z = 0;
        let weightLog = 0;
        for (let n = 0; n < columns; n++) {
          const factor = factors[m * columns + n]!;
          z += factor * sums.weight[n]!;
          weightLog += factor * (sums.weightLog[n]! + sums.weight[n]! * factorLogs[m * columns + n]!);
        }
        const state = m * placements + h;
        beta[state] = z;
        if (z === 0) continue;
        const own = (Math.log(z) - weightLog / z) / Math.LN2;
        entropies[0]![state] = own;
        for (let k = 1; k < window; k++) {
          const entropy = sums.entropy[k - 1]!;
          let later = 0;
          for (let n = 0; n < columns; n++) later += factors[m * columns + n]! * entropy[n]!;
          entropies[k]![state] = own + later / z;
        }
      }
    }
  }
  scaleToOne(beta);
  return { beta, entropies };
}

/**
 * Entropies of the `window` slots after slot t, fewer at the end, with the number of slots they are spread over. Told slot
 * by slot, the last one first: together they would not fit into memory for a long path.
 */
export type VisitRoom = (t: number, bits: Entropies, slots: number) => void;

/**
 * @param window slots looked ahead
 * @param unit integer cost units to one natural unit
 */
export function visitRoom(
  lattice: Lattice,
  temperature: number,
  unit: number,
  window: number,
  visit: VisitRoom,
): void {
  const weights = weightsFor(lattice, temperature, unit);
  const last = lattice.slots.length - 1;
  const size = stateCount(lattice, last);
  let ahead: Ahead = {
    beta: new Float64Array(size).fill(1),
    entropies: Array.from({ length: window }, () => new Float64Array(size)),
  };
  visit(last, ahead.entropies[window - 1]!, 0);
  for (let t = last - 1; t >= 0; t--) {
    ahead = stepBack(lattice, weights, t, ahead, window);
    visit(t, ahead.entropies[window - 1]!, Math.min(window, last - t));
    keptOf(lattice)?.watch('look ahead', 1 - t / last);
  }
}

/** Good choices a slot: the perplexity of so many bits over so many slots; 1 when nothing is left to choose. */
export const choicesPerSlot = (bits: number, slots: number): number =>
  slots === 0 ? 1 : 2 ** (bits / slots);
