// From sums to paths: the best path of all, and the best path through any placement. Ties go to the lowest index.
import type { Chain } from './chain';
import { keptOf } from './kept';
import { barrier, clamp, infinite, pathCost, pitchAt, type Lattice, type Path } from './lattice';
import { backwardSums } from './backward';
import { forwardSums } from './forward';
import { rowCount, turnStarts, type Sums } from './sums';
import { Trail } from './trail';

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

/** The best path; null when every path is blocked. @param spacing as for `forwardSums` */
export function bestPath(lattice: Lattice, spacing?: number): Best | null {
  const trail = new Trail<Sums>(lattice.slots.length, {
    open: (_t, sums) => openStates(sums),
    before: (t, sums, state) =>
      stateNumber(lattice, t, predecessor(lattice, t, sums, stateOf(lattice, t + 1, state))),
  });
  const forward = forwardSums(lattice, spacing, (t, sums) => trail.take(t, sums));
  const last = lattice.slots.length - 1;
  const final = leastState(lattice, last, forward.at(last));
  if (!final) return null;
  const path = new Int32Array(last + 1);
  path[last] = final.placement;
  let state = stateNumber(lattice, last, final);
  for (let t = last - 1; t >= 0; t--) {
    state = trail.before(t, state, (slot) => forward.at(slot));
    path[t] = stateOf(lattice, t, state).placement;
    keptOf(lattice)?.watch('path', 1 - t / last);
  }
  return { path, cost: pathCost(lattice, path) };
}

function openStates(sums: Sums): number[] {
  const open: number[] = [];
  sums.forEach((sum, state) => {
    if (sum < barrier) open.push(state);
  });
  return open;
}

const stateNumber = ({ slots }: Lattice, t: number, { before, placement }: State): number =>
  before * slots[t]!.placements.length + placement;

function stateOf({ slots }: Lattice, t: number, state: number): State {
  const width = slots[t]!.placements.length;
  return { before: Math.floor(state / width), placement: state % width };
}

/** The prices of all placements of a lattice. */
export interface Prices {
  readonly optimum: number;
  /** Cost of the best path through each placement of slot t, less the optimum; `infinite` where there is none. */
  at(t: number): Int32Array;
  /** The best path through placement h of slot t; null when every such path is blocked. */
  pathThrough(t: number, h: number): Best | null;
  /** Where the best paths through two placements of slot t differ; null when either is blocked. */
  parting(t: number, h: number, other: number): Parting | null;
}

/** Two paths from the first slot in which they differ to the last one around it. */
export interface Parting {
  readonly first: number;
  readonly path: Path;
  readonly other: Path;
}

/** Null when every path is blocked. */
export function pricesOf(lattice: Lattice): Prices | null {
  const best = bestPath(lattice);
  if (!best) return null;
  const forward = keptOf(lattice)?.forward.last?.chain ?? forwardSums(lattice);
  const backward = backwardSums(lattice);
  return {
    optimum: best.cost,
    at: (t) => pricesAt(lattice, t, forward.at(t), backwardAt(backward, t)),
    pathThrough: (t, h) => pathThrough(lattice, forward, backward, t, h),
    parting: (t, h, other) => parting(lattice, forward, backward, t, h, other),
  };
}

/** W_t. */
const backwardAt = (backward: Chain<Sums>, t: number): Sums => backward.at(backward.length - 1 - t);

function pricesAt(lattice: Lattice, t: number, forward: Sums, backward: Sums): Int32Array {
  const width = lattice.slots[t]!.placements.length;
  const result = new Int32Array(width).fill(infinite);
  forward.forEach((sum, state) => {
    const total = clamp(sum + backward[state]!);
    if (total < result[state % width]!) result[state % width] = total;
  });
  const least = result.reduce((a, b) => Math.min(a, b), infinite);
  return result.map((total) => (total >= barrier ? infinite : total - least));
}

/** The state of slot t with placement h that the best path through it has; null when every such path is blocked. */
function bestStateOf(
  lattice: Lattice,
  forward: Chain<Sums>,
  backward: Chain<Sums>,
  t: number,
  h: number,
): State | null {
  const width = lattice.slots[t]!.placements.length;
  const before = forward.at(t);
  const after = backwardAt(backward, t);
  const totals = before.map((sum, state) => (state % width === h ? clamp(sum + after[state]!) : infinite));
  return leastState(lattice, t, totals);
}

function pathThrough(
  lattice: Lattice,
  forward: Chain<Sums>,
  backward: Chain<Sums>,
  t: number,
  h: number,
): Best | null {
  const state = bestStateOf(lattice, forward, backward, t, h);
  if (!state) return null;
  const path = new Int32Array(lattice.slots.length);
  traceBack(lattice, forward, t, state, path);
  traceAhead(lattice, backward, t, state, path);
  return { path, cost: pathCost(lattice, path) };
}

const isSameState = (a: State, b: State): boolean => a.before === b.before && a.placement === b.placement;

function parting(
  lattice: Lattice,
  forward: Chain<Sums>,
  backward: Chain<Sums>,
  t: number,
  h: number,
  other: number,
): Parting | null {
  const own = bestStateOf(lattice, forward, backward, t, h);
  const elsewhere = bestStateOf(lattice, forward, backward, t, other);
  if (!own || !elsewhere) return null;
  const path = [own.placement];
  const otherPath = [elsewhere.placement];
  let first = t;
  // From a common state on both paths are the same.
  for (let [a, b] = [own, elsewhere]; first > 0; first--) {
    a = predecessor(lattice, first - 1, forward.at(first - 1), a);
    b = predecessor(lattice, first - 1, forward.at(first - 1), b);
    if (isSameState(a, b)) break;
    path.unshift(a.placement);
    otherPath.unshift(b.placement);
  }
  for (let [a, b, slot] = [own, elsewhere, t]; slot + 1 < lattice.slots.length; slot++) {
    a = successor(lattice, slot, backwardAt(backward, slot + 1), a);
    b = successor(lattice, slot, backwardAt(backward, slot + 1), b);
    if (isSameState(a, b)) break;
    path.push(a.placement);
    otherPath.push(b.placement);
  }
  return { first, path: Int32Array.from(path), other: Int32Array.from(otherPath) };
}

/** The state with the least sum; null when all are blocked. */
function leastState(lattice: Lattice, t: number, sums: Sums): State | null {
  let least = barrier;
  let found = -1;
  sums.forEach((sum, state) => {
    if (sum >= least) return;
    least = sum;
    found = state;
  });
  return found < 0 ? null : stateOf(lattice, t, found);
}

/** Fills a path from a state of slot t down to slot 0. */
function traceBack(lattice: Lattice, forward: Chain<Sums>, t: number, state: State, path: Path): void {
  path[t] = state.placement;
  let current = state;
  for (let earlier = t - 1; earlier >= 0; earlier--) {
    current = predecessor(lattice, earlier, forward.at(earlier), current);
    path[earlier] = current.placement;
  }
}

/** The first state of slot t from which a state of slot t + 1 is reached at the least cost. */
function predecessor(lattice: Lattice, t: number, forward: Sums, { before: b, placement: to }: State): State {
  const { placements, groupStart, moves } = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const width = placements.length;
  const target = next.pitches[pitchAt(next, to)]!;
  const turns = turnStarts(lattice, t, b);
  const rows = rowCount(lattice, t);
  let least = infinite;
  let before = 0;
  let placement = groupStart[b]!;
  for (let h = groupStart[b]!; h < groupStart[b + 1]!; h++) {
    const move = moves.costs[placements[h]! * lattice.placementCount + next.placements[to]!]!;
    for (let m = 0; m < rows; m++) {
      const turn = t === 0 ? 0 : lattice.turnCosts[turns[m]! + target]!;
      const sum = forward[m * width + h]! + turn + move;
      if (sum >= least) continue;
      least = sum;
      before = m;
      placement = h;
    }
  }
  return { before, placement };
}

/** Fills a path from a state of slot t up to the last slot. */
function traceAhead(lattice: Lattice, backward: Chain<Sums>, t: number, state: State, path: Path): void {
  path[t] = state.placement;
  let current = state;
  for (let slot = t; slot + 1 < lattice.slots.length; slot++) {
    current = successor(lattice, slot, backwardAt(backward, slot + 1), current);
    path[slot + 1] = current.placement;
  }
}

/** The first state of slot t + 1 that goes on from a state of slot t at the least cost. */
function successor(lattice: Lattice, t: number, after: Sums, state: State): State {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const h = state.placement;
  const b = pitchAt(slot, h);
  const turn = turnStarts(lattice, t, b)[state.before];
  let least = 2 * infinite;
  let found: State = { before: b, placement: 0 };
  for (let n = 0; n < next.pitches.length; n++) {
    const melody =
      (turn === undefined ? 0 : lattice.turnCosts[turn + next.pitches[n]!]!) +
      slot.stepCosts[b * next.pitches.length + n]! +
      next.pitchCosts[n]!;
    for (let to = next.groupStart[n]!; to < next.groupStart[n + 1]!; to++) {
      const move = slot.moves.costs[slot.placements[h]! * lattice.placementCount + next.placements[to]!]!;
      const hand = move + next.placementCosts[to]!;
      const sum = melody + hand + after[b * next.placements.length + to]!;
      if (sum >= least) continue;
      least = sum;
      found = { before: b, placement: to };
    }
  }
  return found;
}
