// The sums behind the best path and the price of every choice, by exact min-sum elimination (dynamic programming in two
// steps).
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
// the price of placement h at slot t. Paths have no state before slot 0, so there m is a single dummy with no turn cost.
//
// Each table is kept less its least entry. No choice depends on it, numbers stay small however long the path, and tables
// that differ by a constant are equal: that is how a chain sees that an edit no longer matters.
import { Chain, type Recursion } from './chain';
import { keptOf, matchSlots, mirrored } from './kept';
import { barrier, clamp, infinite, type Lattice, type LatticeSlot } from './lattice';

/** F_t or W_t of one slot, less the least of them: row m (pitches of the slot before; one row at slot 0), column h. */
export type Sums = Int32Array;

/** Rows of the state at slot t: the pitches of the slot before, or the dummy. */
export const rowCount = (lattice: Lattice, t: number): number =>
  t === 0 ? 1 : lattice.slots[t - 1]!.pitches.length;

/** States of slot t. */
export const stateCount = (lattice: Lattice, t: number): number =>
  rowCount(lattice, t) * lattice.slots[t]!.placements.length;

/**
 * Where the turn costs from each pitch of the slot before through pitch b begin, so that the cost of going on to a
 * coordinate stands at `start + coordinate`. Empty at slot 0, where there are no turns.
 */
export function turnStarts({ slots, reach }: Lattice, t: number, b: number): Int32Array {
  const here = slots[t]!.pitches[b]!;
  const before = t === 0 ? new Int32Array(0) : slots[t - 1]!.pitches;
  return before.map((m) => (here - m + reach) * (2 * reach + 1) + reach - here);
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

/** The least entry of each column of a table. */
function columnLeast(table: Int32Array, columns: number): Int32Array {
  const result = table.slice(0, columns);
  for (let row = columns; row < table.length; row += columns) {
    for (let column = 0; column < columns; column++) {
      if (table[row + column]! < result[column]!) result[column] = table[row + column]!;
    }
  }
  return result;
}

/** The table less its least entry, blocked entries made the same; changed in place. */
function levelled(sums: Sums): Sums {
  const blocked = infinite;
  const limit = barrier;
  let least = limit;
  for (let index = 0; index < sums.length; index++) if (sums[index]! < least) least = sums[index]!;
  for (let index = 0; index < sums.length; index++) {
    const sum = sums[index]!;
    sums[index] = sum >= limit ? blocked : sum - least;
  }
  return sums;
}

/** G_t, row h, column n: the pitch before is eliminated. */
function forwardPitch(lattice: Lattice, t: number, forward: Sums, spread: number): Int32Array {
  const slot = lattice.slots[t]!;
  const { pitches: targets } = lattice.slots[t + 1]!;
  const { turnCosts } = lattice;
  const placements = slot.placements.length;
  const columns = targets.length;
  const limit = barrier;
  const blocked = infinite;
  const least = columnLeast(forward, placements);
  const result = new Int32Array(placements * columns).fill(blocked);
  for (let b = 0; b < slot.pitches.length; b++) {
    const first = slot.groupStart[b]!;
    const end = slot.groupStart[b + 1]!;
    const turns = turnStarts(lattice, t, b);
    for (let m = 0; m < turns.length; m++) {
      const turn = turns[m]!;
      for (let h = first; h < end; h++) {
        const sum = forward[m * placements + h]!;
        // A predecessor worse than the best one by more than turns can differ is worse for every n: left out, exactly.
        if (sum >= limit || sum > least[h]! + spread) continue;
        const out = h * columns;
        for (let n = 0; n < columns; n++) {
          const candidate = sum + turnCosts[turn + targets[n]!]!;
          if (candidate < result[out + n]!) result[out + n] = candidate;
        }
      }
    }
    for (let h = first; h < end; h++) {
      for (let n = 0; n < columns; n++) {
        const sum = (t === 0 ? forward[h]! : result[h * columns + n]!) + slot.stepCosts[b * columns + n]!;
        result[h * columns + n] = sum >= limit ? blocked : sum;
      }
    }
  }
  return result;
}

/** F_{t+1} from G_t: the placement before is eliminated. Four of them a round, so that targets are looked up once. */
function forwardPlacement(lattice: Lattice, t: number, best: Int32Array): Sums {
  const slot = lattice.slots[t]!;
  const { placements: targets, groupStart, pitches } = lattice.slots[t + 1]!;
  const columns = pitches.length;
  const width = targets.length;
  const moves = slot.moves.costs;
  const unary = unaryCosts(lattice.slots[t + 1]!);
  const result = new Int32Array(slot.pitches.length * width).fill(infinite);
  for (let b = 0; b < slot.pitches.length; b++) {
    const out = b * width;
    const last = slot.groupStart[b + 1]! - 1;
    for (let h = slot.groupStart[b]!; h <= last; h += 4) {
      // At the end of a group its last placement stands in for those that are missing.
      const [h1, h2, h3] = [Math.min(h + 1, last), Math.min(h + 2, last), Math.min(h + 3, last)];
      const row0 = slot.placements[h]! * lattice.placementCount;
      const row1 = slot.placements[h1]! * lattice.placementCount;
      const row2 = slot.placements[h2]! * lattice.placementCount;
      const row3 = slot.placements[h3]! * lattice.placementCount;
      for (let n = 0; n < columns; n++) {
        const sum0 = best[h * columns + n]!;
        const sum1 = best[h1 * columns + n]!;
        const sum2 = best[h2 * columns + n]!;
        const sum3 = best[h3 * columns + n]!;
        const end = groupStart[n + 1]!;
        for (let to = groupStart[n]!; to < end; to++) {
          const target = targets[to]!;
          const candidate = Math.min(
            Math.min((sum0 + moves[row0 + target]!) | 0, (sum1 + moves[row1 + target]!) | 0),
            Math.min((sum2 + moves[row2 + target]!) | 0, (sum3 + moves[row3 + target]!) | 0),
          );
          if (candidate < result[out + to]!) result[out + to] = candidate;
        }
      }
    }
    for (let to = 0; to < width; to++) result[out + to]! += unary[to]!;
  }
  return levelled(result);
}

/** F_{t+1} from F_t. */
const forwardStep = (lattice: Lattice, t: number, forward: Sums, spread: number): Sums =>
  forwardPlacement(lattice, t, forwardPitch(lattice, t, forward, spread));

/** K_t, row h, column n: the placement to come is eliminated. Steps are included. */
function backwardPlacement(lattice: Lattice, t: number, after: Sums): Int32Array {
  const slot = lattice.slots[t]!;
  const { placements: targets, groupStart, pitches } = lattice.slots[t + 1]!;
  const columns = pitches.length;
  const width = targets.length;
  const moves = slot.moves.costs;
  const limit = barrier;
  const blocked = infinite;
  const unary = unaryCosts(lattice.slots[t + 1]!);
  const ahead = new Int32Array(width);
  const result = new Int32Array(slot.placements.length * columns);
  for (let b = 0; b < slot.pitches.length; b++) {
    for (let to = 0; to < width; to++) ahead[to] = clamp(unary[to]! + after[b * width + to]!);
    for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
      const row = slot.placements[h]! * lattice.placementCount;
      for (let n = 0; n < columns; n++) {
        let least = blocked;
        const end = groupStart[n + 1]!;
        for (let to = groupStart[n]!; to < end; to++) {
          least = Math.min(least, (moves[row + targets[to]!]! + ahead[to]!) | 0);
        }
        least += slot.stepCosts[b * columns + n]!;
        result[h * columns + n] = least >= limit ? blocked : least;
      }
    }
  }
  return result;
}

/** W_t from K_t: the pitch to come is eliminated. */
function backwardPitch(lattice: Lattice, t: number, ways: Int32Array, spread: number): Sums {
  const slot = lattice.slots[t]!;
  const { pitches: targets } = lattice.slots[t + 1]!;
  const { turnCosts } = lattice;
  const placements = slot.placements.length;
  const columns = targets.length;
  const rows = rowCount(lattice, t);
  const result = new Int32Array(rows * placements).fill(infinite);
  for (let b = 0; b < slot.pitches.length; b++) {
    const turns = turnStarts(lattice, t, b);
    for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
      let least = barrier;
      for (let n = 0; n < columns; n++) least = Math.min(least, ways[h * columns + n]!);
      for (let n = 0; n < columns; n++) {
        const way = ways[h * columns + n]!;
        // A way on that is worse than the best one by more than turns can differ is worse for every m: left out, exactly.
        if (way >= barrier || way > least + spread) continue;
        for (let m = 0; m < rows; m++) {
          const candidate = t === 0 ? way : way + turnCosts[turns[m]! + targets[n]!]!;
          if (candidate < result[m * placements + h]!) result[m * placements + h] = candidate;
        }
      }
    }
  }
  return levelled(result);
}

/** W_t from W_{t+1}. */
const backwardStep = (lattice: Lattice, t: number, after: Sums, spread: number): Sums =>
  backwardPitch(lattice, t, backwardPlacement(lattice, t, after), spread);

const isSameSums = (a: Sums, b: Sums): boolean =>
  a.length === b.length && a.every((sum, state) => sum === b[state]);

/** F_t at every slot t. @param spacing slots from one that is kept to the next; left out, as memory allows */
export function forwardSums(lattice: Lattice, spacing?: number): Chain<Sums> {
  const { slots } = lattice;
  const kept = keptOf(lattice);
  const spread = turnSpread(lattice);
  const recursion: Recursion<Sums> = {
    length: slots.length,
    first: () => levelled(unaryCosts(slots[0]!)),
    next: (t, sums) => forwardStep(lattice, t, sums, spread),
    isSame: isSameSums,
    bytesAt: (t) => stateCount(lattice, t) * Int32Array.BYTES_PER_ELEMENT,
  };
  const before = kept?.forward;
  const earlier = before && { chain: before.chain, match: matchSlots(before.lattice, lattice) };
  const chain = new Chain(recursion, earlier, (done) => kept?.watch('forward', done), spacing);
  if (kept) kept.forward = { lattice, chain };
  return chain;
}

/** W_t at place T - 1 - t, from the last slot back: nothing is left to pay after it. @param spacing as above */
export function backwardSums(lattice: Lattice, spacing?: number): Chain<Sums> {
  const { slots } = lattice;
  const kept = keptOf(lattice);
  const last = slots.length - 1;
  const spread = turnSpread(lattice);
  const recursion: Recursion<Sums> = {
    length: slots.length,
    first: () => new Int32Array(stateCount(lattice, last)),
    next: (place, sums) => backwardStep(lattice, last - place - 1, sums, spread),
    isSame: isSameSums,
    bytesAt: (place) => stateCount(lattice, last - place) * Int32Array.BYTES_PER_ELEMENT,
  };
  const before = kept?.backward;
  const earlier = before && {
    chain: before.chain,
    match: mirrored(matchSlots(before.lattice, lattice), before.chain.length),
  };
  const chain = new Chain(recursion, earlier, (done) => kept?.watch('backward', done), spacing);
  if (kept) kept.backward = { lattice, chain };
  return chain;
}
