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
// (h, n) and then combined over n for each m: the two steps of backward.ts again.
import { keptOf } from './kept';
import type { Lattice } from './lattice';
import { rowCount, stateCount, turnStarts } from './sums';
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

/** What follows one pitch b: by h', the weight of all that comes with it and after, its logarithm, and E_1 to E_window. */
interface Following {
  readonly weights: Float64Array;
  readonly logs: Float64Array;
  readonly entropies: readonly Float64Array[];
}

/** Logarithms of tables of move weights, made once for a table. */
type MoveLogs = Map<Float64Array, Float64Array>;

function logsOf(moves: Float64Array, known: MoveLogs): Float64Array {
  const found = known.get(moves);
  if (found) return found;
  const made = logarithms(moves);
  known.set(moves, made);
  return made;
}

/** Sums over h' for a placement h with pitch b, given w(h') without the melody, and its logarithm, by parts. */
function gather(
  lattice: Lattice,
  weights: Weights,
  moveLogs: MoveLogs,
  t: number,
  h: number,
  following: Following,
  own: Float64Array,
  sums: GroupSums,
): void {
  const slot = lattice.slots[t]!;
  const { placements: targets, groupStart, pitches } = lattice.slots[t + 1]!;
  const moveRow = slot.placements[h]! * lattice.placementCount;
  const moves = weights.ofTable(slot.moves.costs);
  const logs = logsOf(moves, moveLogs);
  const { weights: ahead, logs: aheadLogs, entropies } = following;
  const { weight, weightLog, entropy } = sums;
  const last = entropy.length - 1;
  for (let n = 0; n < pitches.length; n++) {
    const start = groupStart[n]!;
    const end = groupStart[n + 1]!;
    let total = 0;
    let totalLog = 0;
    for (let to = start; to < end; to++) {
      const at = moveRow + targets[to]!;
      const one = moves[at]! * ahead[to]!;
      own[to] = one;
      total += one;
      totalLog += one * (logs[at]! + aheadLogs[to]!);
    }
    weight[n] = total;
    weightLog[n] = totalLog;
    // Four at a time, here and below: at the end the last one stands in for those that are missing.
    for (let k = 0; k <= last; k += 4) {
      const [k1, k2, k3] = [Math.min(k + 1, last), Math.min(k + 2, last), Math.min(k + 3, last)];
      const e0 = entropies[k]!;
      const e1 = entropies[k1]!;
      const e2 = entropies[k2]!;
      const e3 = entropies[k3]!;
      let sum0 = 0;
      let sum1 = 0;
      let sum2 = 0;
      let sum3 = 0;
      for (let to = start; to < end; to++) {
        const one = own[to]!;
        sum0 += one * e0[to]!;
        sum1 += one * e1[to]!;
        sum2 += one * e2[to]!;
        sum3 += one * e3[to]!;
      }
      entropy[k]![n] = sum0;
      entropy[k1]![n] = sum1;
      entropy[k2]![n] = sum2;
      entropy[k3]![n] = sum3;
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

function stepBack(
  lattice: Lattice,
  weights: Weights,
  moveLogs: MoveLogs,
  t: number,
  after: Ahead,
  window: number,
): Ahead {
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
  const own = new Float64Array(width);
  const last = window - 1;
  for (let b = 0; b < slot.pitches.length; b++) {
    const factors = onward(lattice, weights, t, b);
    const factorLogs = logarithms(factors);
    const states = [b * width, (b + 1) * width] as const;
    const ahead = after.beta.slice(...states).map((weight, to) => weight * unary[to]!);
    const following: Following = {
      weights: ahead,
      logs: logarithms(ahead),
      entropies: after.entropies.map((one) => one.subarray(...states)),
    };
    for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
      gather(lattice, weights, moveLogs, t, h, following, own, sums);
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
        const bits = (Math.log(z) - weightLog / z) / Math.LN2;
        entropies[0]![state] = bits;
        for (let k = 1; k <= last; k += 4) {
          const [k1, k2, k3] = [Math.min(k + 1, last), Math.min(k + 2, last), Math.min(k + 3, last)];
          const e0 = sums.entropy[k - 1]!;
          const e1 = sums.entropy[k1 - 1]!;
          const e2 = sums.entropy[k2 - 1]!;
          const e3 = sums.entropy[k3 - 1]!;
          let later0 = 0;
          let later1 = 0;
          let later2 = 0;
          let later3 = 0;
          for (let n = 0; n < columns; n++) {
            const factor = factors[m * columns + n]!;
            later0 += factor * e0[n]!;
            later1 += factor * e1[n]!;
            later2 += factor * e2[n]!;
            later3 += factor * e3[n]!;
          }
          entropies[k]![state] = bits + later0 / z;
          entropies[k1]![state] = bits + later1 / z;
          entropies[k2]![state] = bits + later2 / z;
          entropies[k3]![state] = bits + later3 / z;
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
  const moveLogs: MoveLogs = new Map();
  let ahead: Ahead = {
    beta: new Float64Array(size).fill(1),
    entropies: Array.from({ length: window }, () => new Float64Array(size)),
  };
  visit(last, ahead.entropies[window - 1]!, 0);
  for (let t = last - 1; t >= 0; t--) {
    ahead = stepBack(lattice, weights, moveLogs, t, ahead, window);
    visit(t, ahead.entropies[window - 1]!, Math.min(window, last - t));
    keptOf(lattice)?.watch('look ahead', 1 - t / last);
  }
}

/** Good choices a slot: the perplexity of so many bits over so many slots; 1 when nothing is left to choose. */
export const choicesPerSlot = (bits: number, slots: number): number =>
  slots === 0 ? 1 : 2 ** (bits / slots);
