// From sums to paths: the best path of all, and the best path through any placement.
import { clamp, infinite, pitchOfPlacement, type Lattice, type Path } from './lattice';
import { forwardSums, rowCount, turnRow, type Sums } from './minimum';

/** A path with its cost. */
export interface Best {
  readonly path: Path;
  readonly cost: number;
}

/** A state (m, h) of one slot. */
interface State {
  readonly before: number;
  readonly placement: number;
}

/** The best path; null when every path is blocked. Ties go to the lowest index, from the last slot back. */
export function bestPath(lattice: Lattice, forward: readonly Sums[] = forwardSums(lattice)): Best | null {
  const last = lattice.slots.length - 1;
  const width = lattice.slots[last]!.placements.length;
  let cost = infinite;
  let index = -1;
  forward[last]!.forEach((sum, state) => {
    if (sum < cost) {
      cost = sum;
      index = state;
    }
  });
  if (index < 0) return null;
  const path = new Int32Array(last + 1);
  traceBack(lattice, forward, last, { before: Math.floor(index / width), placement: index % width }, path);
  return { path, cost };
}

/** The best path through placement h of slot t; null when every such path is blocked. */
export function bestPathThrough(
  lattice: Lattice,
  forward: readonly Sums[],
  backward: readonly Sums[],
  t: number,
  h: number,
): Best | null {
  const width = lattice.slots[t]!.placements.length;
  let cost = infinite;
  let before = -1;
  for (let m = 0; m < rowCount(lattice, t); m++) {
    const total = clamp(forward[t]![m * width + h]! + backward[t]![m * width + h]!);
    if (total < cost) {
      cost = total;
      before = m;
    }
  }
  if (before < 0) return null;
  const path = new Int32Array(lattice.slots.length);
  traceBack(lattice, forward, t, { before, placement: h }, path);
  traceAhead(lattice, backward, t, { before, placement: h }, path);
  return { path, cost };
}

/** Fills a path from a state of slot t down to slot 0. */
function traceBack(lattice: Lattice, forward: readonly Sums[], t: number, state: State, path: Path): void {
  path[t] = state.placement;
  let current = state;
  for (let earlier = t - 1; earlier >= 0; earlier--) {
    current = predecessor(lattice, earlier, forward, current);
    path[earlier] = current.placement;
  }
}

/** The lowest (m_{t-1}, h_t) that explains F_{t+1} of a state. */
function predecessor(lattice: Lattice, t: number, forward: readonly Sums[], state: State): State {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const b = state.before;
  const to = state.placement;
  const wanted = forward[t + 1]![b * next.placements.length + to]!;
  const n = pitchOfPlacement(next)[to]!;
  const coordinate = slot.pitches[b]!;
  const second = next.pitches[n]! - coordinate + lattice.reach;
  const fixed = slot.stepCosts[b * next.pitches.length + n]! + next.pitchCosts[n]! + next.placementCosts[to]!;
  for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
    const move = slot.moves.costs[slot.placements[h]! * lattice.placementCount + next.placements[to]!]!;
    for (let m = 0; m < rowCount(lattice, t); m++) {
      const sum = forward[t]![m * slot.placements.length + h]!;
      if (sum >= infinite) continue;
      const row = turnRow(lattice, t, m, coordinate);
      const turn = row < 0 ? 0 : lattice.turnCosts[row + second]!;
      if (sum + turn + fixed + move === wanted) return { placement: h, before: m };
    }
  }
  throw new Error('forward sums do not belong to this lattice');
}

/** Fills a path from a state of slot t up to the last slot. */
function traceAhead(lattice: Lattice, backward: readonly Sums[], t: number, state: State, path: Path): void {
  path[t] = state.placement;
  let current = state;
  for (let slot = t; slot + 1 < lattice.slots.length; slot++) {
    current = successor(lattice, slot, backward, current);
    path[slot + 1] = current.placement;
  }
}

/** The lowest h_{t+1} that explains W_t of a state. */
function successor(lattice: Lattice, t: number, backward: readonly Sums[], state: State): State {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const h = state.placement;
  const b = pitchOfPlacement(slot)[h]!;
  const wanted = backward[t]![state.before * slot.placements.length + h]!;
  const row = turnRow(lattice, t, state.before, slot.pitches[b]!);
  for (let n = 0; n < next.pitches.length; n++) {
    const second = next.pitches[n]! - slot.pitches[b]! + lattice.reach;
    const fixed =
      (row < 0 ? 0 : lattice.turnCosts[row + second]!) +
      slot.stepCosts[b * next.pitches.length + n]! +
      next.pitchCosts[n]!;
    for (let to = next.groupStart[n]!; to < next.groupStart[n + 1]!; to++) {
      const move = slot.moves.costs[slot.placements[h]! * lattice.placementCount + next.placements[to]!]!;
      const after = backward[t + 1]![b * next.placements.length + to]!;
      if (after < infinite && fixed + move + next.placementCosts[to]! + after === wanted) {
        return { before: b, placement: to };
      }
    }
  }
  throw new Error('backward sums do not belong to this lattice');
}
