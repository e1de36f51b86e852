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
import type { Lattice } from './lattice';
import { rowCount, turnRow } from './minimum';
import { boltzmann, scaleToOne, weightedLattice, type Weighted } from './weights';

/** Entropies of one slot in bits, row m, column h. */
export type Entropies = Float64Array;

/** Sums over the placements of one pitch, for one h: weights, weights times their logarithm, weights times E_j. */
interface GroupSums {
  readonly weight: Float64Array;
  readonly weightLog: Float64Array;
  /** By number of slots already looked ahead, then by next pitch. */
  readonly entropy: readonly Float64Array[];
}

const emptySums = (columns: number, ahead: number): GroupSums => ({
  weight: new Float64Array(columns),
  weightLog: new Float64Array(columns),
  entropy: Array.from({ length: ahead }, () => new Float64Array(columns)),
});

/** What the slots from t on know: weights of all that follows and entropies by slots looked ahead. */
interface Ahead {
  readonly beta: Float64Array;
  /** E_1 to E_window. */
  readonly entropies: readonly Float64Array[];
}

function gather(
  lattice: Lattice,
  weighted: Weighted,
  t: number,
  b: number,
  h: number,
  after: Ahead,
  sums: GroupSums,
): void {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const width = next.placements.length;
  const moveRow = slot.placements[h]! * lattice.placementCount;
  const moves = weighted.moves[t]!;
  const unary = weighted.unary[t + 1]!;
  for (let n = 0; n < next.pitches.length; n++) {
    let weight = 0;
    let weightLog = 0;
    for (const sum of sums.entropy) sum[n] = 0;
    for (let to = next.groupStart[n]!; to < next.groupStart[n + 1]!; to++) {
      const w = moves[moveRow + next.placements[to]!]! * unary[to]! * after.beta[b * width + to]!;
      if (w === 0) continue;
      weight += w;
      weightLog += w * Math.log(w);
      for (let k = 0; k < sums.entropy.length; k++)
        sums.entropy[k]![n]! += w * after.entropies[k]![b * width + to]!;
    }
    sums.weight[n] = weight;
    sums.weightLog[n] = weightLog;
  }
}

function stepBack(lattice: Lattice, weighted: Weighted, t: number, after: Ahead, window: number): Ahead {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const placements = slot.placements.length;
  const columns = next.pitches.length;
  const rows = rowCount(lattice, t);
  const beta = new Float64Array(rows * placements);
  const entropies = Array.from({ length: window }, () => new Float64Array(rows * placements));
  const sums = emptySums(columns, window - 1);
  const steps = weighted.steps[t]!;
  const factors = new Float64Array(columns);
  for (let b = 0; b < slot.pitches.length; b++) {
    for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
      gather(lattice, weighted, t, b, h, after, sums);
      for (let m = 0; m < rows; m++) {
        const row = turnRow(lattice, t, m, slot.pitches[b]!);
        let z = 0;
        let weightLog = 0;
        for (let n = 0; n < columns; n++) {
          const second = next.pitches[n]! - slot.pitches[b]! + lattice.reach;
          const factor = steps[b * columns + n]! * (row < 0 ? 1 : weighted.turns[row + second]!);
          factors[n] = factor;
          if (factor === 0) continue;
          z += factor * sums.weight[n]!;
          weightLog += factor * (sums.weightLog[n]! + sums.weight[n]! * Math.log(factor));
        }
        const state = m * placements + h;
        beta[state] = z;
        if (z === 0) continue;
        const own = (Math.log(z) - weightLog / z) / Math.LN2;
        for (let k = 0; k < window; k++) {
          let onward = 0;
          if (k > 0) for (let n = 0; n < columns; n++) onward += factors[n]! * sums.entropy[k - 1]![n]!;
          entropies[k]![state] = own + onward / z;
        }
      }
    }
  }
  scaleToOne(beta);
  return { beta, entropies };
}

/** Entropy of the next slots for every state of every slot. */
export interface Room {
  /** Bits in the `window` slots after slot t (fewer at the end), row m, column h. */
  readonly bits: readonly Entropies[];
  /** How many slots those bits are spread over, by slot. */
  readonly lengths: readonly number[];
}

/**
 * @param window slots looked ahead
 * @param unit integer cost units to one natural unit
 */
export function elbowRoom(lattice: Lattice, temperature: number, unit: number, window: number): Room {
  const weighted = weightedLattice(lattice, boltzmann(temperature, unit));
  const last = lattice.slots.length - 1;
  const size = rowCount(lattice, last) * lattice.slots[last]!.placements.length;
  const bits = new Array<Entropies>(last + 1);
  let ahead: Ahead = {
    beta: new Float64Array(size).fill(1),
    entropies: Array.from({ length: window }, () => new Float64Array(size)),
  };
  bits[last] = ahead.entropies[window - 1]!;
  for (let t = last - 1; t >= 0; t--) {
    ahead = stepBack(lattice, weighted, t, ahead, window);
    bits[t] = ahead.entropies[window - 1]!;
  }
  return { bits, lengths: lattice.slots.map((_, t) => Math.min(window, last - t)) };
}

/** Good choices a slot: the perplexity of so many bits over so many slots; 1 when nothing is left to choose. */
export const choicesPerSlot = (bits: number, slots: number): number =>
  slots === 0 ? 1 : 2 ** (bits / slots);
