// The best path, and the price of every choice, by exact min-sum elimination (dynamic programming in two steps).
//
// State after slot t: (m_{t-1}, h_t). With F_t(m, h) the least cost of slots 0..t that ends there,
//
//   G_t(h, n)       = min over m of       F_t(m, h) + S(p(h) - m, n - p(h)),     then + R_t(p(h), n)
//   F_{t+1}(b, h')  = A(h') + B(h') + min over h with pitch b of  G_t(h, p(h')) + V_t(h, h')
//
// which costs |H| |P|^2 + |H|^2 a slot instead of |P| |H|^2. The backward pass is its mirror image:
//
//   K_t(h, n)       = min over h' with pitch n of  V_t(h, h') + A(h') + B(h') + W_{t+1}(p(h), h')
//   W_t(m, h)       = min over n of       S(p(h) - m, n - p(h)) + R_t(p(h), n) + K_t(h, n)
//
// and F_t(m, h) + W_t(m, h) is the cost of the best whole path through (m, h): its minimum over m, less the optimum, is
// the price of placement h at slot t. Ties go to the lowest index. Paths have no state before slot 0, so there m is
// a single dummy with no turn cost.
import { barrier, clamp, infinite, type Lattice, type LatticeSlot } from './lattice';

/** F_t or W_t of one slot: row m (pitches of the slot before; one row at slot 0), column h. */
export type Sums = Int32Array;

/** Rows of the state at slot t: the pitches of the slot before, or the dummy. */
export const rowCount = (lattice: Lattice, t: number): number =>
  t === 0 ? 1 : lattice.slots[t - 1]!.pitches.length;

/** Offsets into a row of the turn table for each pitch of a slot, seen from pitch `from`. */
function secondSteps(slot: LatticeSlot, from: number, reach: number): Int32Array {
  return slot.pitches.map((coordinate) => coordinate - from + reach);
}

/** Start of the turn-table row of the step from pitch m of the slot before to a coordinate; -1 for the dummy. */
export function turnRow(lattice: Lattice, t: number, m: number, to: number): number {
  if (t === 0) return -1;
  return (to - lattice.slots[t - 1]!.pitches[m]! + lattice.reach) * (2 * lattice.reach + 1);
}

/** First half of a forward step: G_t, row h, column n. */
function eliminatePitch(lattice: Lattice, t: number, forward: Sums, spread: number): Int32Array {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const placements = slot.placements.length;
  const columns = next.pitches.length;
  const rows = rowCount(lattice, t);
  const { turnCosts, reach } = lattice;
  const blocked = infinite;
  const limit = barrier;
  const result = new Int32Array(placements * columns).fill(blocked);
  for (let b = 0; b < slot.pitches.length; b++) {
    const steps = secondSteps(next, slot.pitches[b]!, reach);
    const turns = Int32Array.from({ length: rows }, (_, m) => turnRow(lattice, t, m, slot.pitches[b]!));
    for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
      const out = h * columns;
      // A predecessor worse than the best one by more than turns can differ is worse for every n: left out, exactly.
      let bound = blocked;
      for (let m = 0; m < rows; m++)
        if (forward[m * placements + h]! < bound) bound = forward[m * placements + h]!;
      bound = Math.min(blocked - 1, bound + spread);
      for (let m = 0; m < rows; m++) {
        const sum = forward[m * placements + h]!;
        if (sum > bound) continue;
        const row = turns[m]!;
        for (let n = 0; n < columns; n++) {
          const candidate = row < 0 ? sum : sum + turnCosts[row + steps[n]!]!;
          if (candidate < result[out + n]!) result[out + n] = candidate;
        }
      }
    }
    const step = b * columns;
    for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
      for (let n = 0; n < columns; n++) {
        const sum = result[h * columns + n]! + slot.stepCosts[step + n]!;
        result[h * columns + n] = sum >= limit ? blocked : sum;
      }
    }
  }
  return result;
}

/** Second half of a forward step: F_{t+1} from G_t. */
function eliminatePlacement(lattice: Lattice, t: number, best: Int32Array): Sums {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const columns = next.pitches.length;
  const width = next.placements.length;
  const { placementCount } = lattice;
  const moves = slot.moves.costs;
  const { placements: targets, groupStart } = next;
  const blocked = infinite;
  const result = new Int32Array(slot.pitches.length * width).fill(blocked);
  for (let b = 0; b < slot.pitches.length; b++) {
    const out = b * width;
    for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
      const moveRow = slot.placements[h]! * placementCount;
      for (let n = 0; n < columns; n++) {
        const sum = best[h * columns + n]!;
        if (sum >= blocked) continue;
        const end = groupStart[n + 1]!;
        for (let to = groupStart[n]!; to < end; to++) {
          const candidate = sum + moves[moveRow + targets[to]!]!;
          if (candidate < result[out + to]!) result[out + to] = candidate;
        }
      }
    }
  }
  addUnary(next, result);
  return result;
}

/** Adds A + B of a slot to every row of a table over its placements. */
function addUnary(slot: LatticeSlot, sums: Sums): void {
  const width = slot.placements.length;
  const unary = unaryCosts(slot);
  const limit = barrier;
  const blocked = infinite;
  for (let row = 0; row < sums.length; row += width) {
    for (let h = 0; h < width; h++) {
      const sum = sums[row + h]! + unary[h]!;
      sums[row + h] = sum >= limit ? blocked : sum;
    }
  }
}

/** A + B by placement. */
function unaryCosts(slot: LatticeSlot): Int32Array {
  const result = new Int32Array(slot.placements.length);
  for (let pitch = 0; pitch < slot.pitches.length; pitch++) {
    for (let h = slot.groupStart[pitch]!; h < slot.groupStart[pitch + 1]!; h++) {
      result[h] = clamp(slot.pitchCosts[pitch]! + slot.placementCosts[h]!);
    }
  }
  return result;
}

/** F_0. */
export const firstSums = (lattice: Lattice): Sums => unaryCosts(lattice.slots[0]!);

/** How much two turns can differ in cost. */
export function turnSpread({ turnCosts }: Lattice): number {
  let lowest = infinite;
  let highest = -infinite;
  for (const cost of turnCosts) {
    lowest = Math.min(lowest, cost);
    highest = Math.max(highest, cost);
  }
  return highest - lowest;
}

/** One forward step, F_t to F_{t+1}; `spread` as `turnSpread` gives it. */
export const forwardStep = (lattice: Lattice, t: number, forward: Sums, spread: number): Sums =>
  eliminatePlacement(lattice, t, eliminatePitch(lattice, t, forward, spread));

/** F_t for every slot. */
export function forwardSums(lattice: Lattice): Sums[] {
  const spread = turnSpread(lattice);
  const result: Sums[] = [firstSums(lattice)];
  for (let t = 0; t + 1 < lattice.slots.length; t++) result.push(forwardStep(lattice, t, result[t]!, spread));
  return result;
}

/** One backward step, W_{t+1} to W_t; `spread` as `turnSpread` gives it. */
export function backwardStep(lattice: Lattice, t: number, after: Sums, spread: number): Sums {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const placements = slot.placements.length;
  const columns = next.pitches.length;
  const width = next.placements.length;
  const rows = rowCount(lattice, t);
  const { turnCosts, reach, placementCount } = lattice;
  const moves = slot.moves.costs;
  const unary = unaryCosts(next);
  const { placements: targets, groupStart } = next;
  const blocked = infinite;
  const limit = barrier;
  const result = new Int32Array(rows * placements).fill(blocked);
  const ahead = new Int32Array(width);
  const best = new Int32Array(columns);
  const open = new Int32Array(columns);
  for (let b = 0; b < slot.pitches.length; b++) {
    for (let to = 0; to < width; to++) ahead[to] = clamp(unary[to]! + after[b * width + to]!);
    const steps = secondSteps(next, slot.pitches[b]!, reach);
    const turns = Int32Array.from({ length: rows }, (_, m) => turnRow(lattice, t, m, slot.pitches[b]!));
    for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
      const moveRow = slot.placements[h]! * placementCount;
      let bound = blocked;
      for (let n = 0; n < columns; n++) {
        let lowest = blocked;
        const end = groupStart[n + 1]!;
        for (let to = groupStart[n]!; to < end; to++) {
          const candidate = moves[moveRow + targets[to]!]! + ahead[to]!;
          if (candidate < lowest) lowest = candidate;
        }
        lowest += slot.stepCosts[b * columns + n]!;
        best[n] = lowest;
        if (lowest < bound) bound = lowest;
      }
      // A way on that is worse than the best one by more than turns can differ is worse for every m: left out, exactly.
      let kept = 0;
      for (let n = 0; n < columns; n++) if (best[n]! <= bound + spread && best[n]! < limit) open[kept++] = n;
      for (let m = 0; m < rows; m++) {
        const row = turns[m]!;
        let lowest = blocked;
        for (let k = 0; k < kept; k++) {
          const n = open[k]!;
          const candidate = row < 0 ? best[n]! : best[n]! + turnCosts[row + steps[n]!]!;
          if (candidate < lowest) lowest = candidate;
        }
        result[m * placements + h] = lowest >= limit ? blocked : lowest;
      }
    }
  }
  return result;
}

/** W of the last slot: nothing is left to pay. */
export function lastSums(lattice: Lattice): Sums {
  const last = lattice.slots.length - 1;
  return new Int32Array(rowCount(lattice, last) * lattice.slots[last]!.placements.length);
}

/** W_t for every slot; after the last slot nothing is left to pay. */
export function backwardSums(lattice: Lattice): Sums[] {
  const last = lattice.slots.length - 1;
  const result = new Array<Sums>(last + 1);
  result[last] = lastSums(lattice);
  const spread = turnSpread(lattice);
  for (let t = last - 1; t >= 0; t--) result[t] = backwardStep(lattice, t, result[t + 1]!, spread);
  return result;
}

/** Least cost of a whole path through each placement of each slot (`infinite` where there is none). */
export function throughCosts(
  lattice: Lattice,
  forward: readonly Sums[],
  backward: readonly Sums[],
): Int32Array[] {
  return lattice.slots.map((slot, t) => {
    const width = slot.placements.length;
    const result = new Int32Array(width).fill(infinite);
    forward[t]!.forEach((sum, index) => {
      const total = clamp(sum + backward[t]![index]!);
      if (total < result[index % width]!) result[index % width] = total;
    });
    return result;
  });
}
