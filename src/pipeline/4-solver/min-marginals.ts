// From messages to paths: the best path of all, and the min-marginal (price) of any placement with the best path through it
// (Kschischang, Frey & Loeliger 2001). Ties go to the lowest index.
import type { Chain } from './checkpointing';
import { cacheOf } from './solved-cache';
import {
  barrier,
  clamp,
  infinite,
  moveIndex,
  pathCost,
  pitchAt,
  rowsAt,
  type Best,
  type Lattice,
  type Path,
} from './lattice';
import { backwardMessages } from './backward-messages';
import { forwardMessages } from './forward-messages';
import type { Sums } from './messages';

/** A state (g, h) of one slot. */
interface State {
  readonly memory: number;
  readonly placement: number;
}

/** The best path; null when every path is blocked. @param spacing as for `forwardMessages` */
export function bestPath(lattice: Lattice, spacing?: number): Best | null {
  const cache = cacheOf(lattice);
  if (cache?.best?.lattice !== lattice) {
    const found = findBestPath(lattice, spacing);
    if (!cache) return found;
    cache.best = { lattice, found };
  }
  const { found } = cache.best;
  return found && { ...found, path: found.path.slice() };
}

function findBestPath(lattice: Lattice, spacing: number | undefined): Best | null {
  const forward = forwardMessages(lattice, spacing);
  const last = lattice.slots.length - 1;
  const final = leastState(lattice, last, forward.at(last));
  if (!final) return null;
  const path = new Int32Array(last + 1);
  path[last] = final.placement;
  // The survivor path: back from the last state, each by the step that made its sum.
  let state = final;
  for (let t = last - 1; t >= 0; t--) {
    state = predecessor(lattice, t, forward.at(t), state);
    path[t] = state.placement;
    cacheOf(lattice)?.watch('path', 1 - t / last);
  }
  return { path, cost: pathCost(lattice, path) };
}

function stateOf({ slots }: Lattice, t: number, state: number): State {
  const width = slots[t]!.placements.length;
  return { memory: Math.floor(state / width), placement: state % width };
}

/** The prices of all placements of a lattice. */
export interface MinMarginals {
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
export function minMarginals(lattice: Lattice): MinMarginals | null {
  const best = bestPath(lattice);
  if (!best) return null;
  const forward = cacheOf(lattice)?.forward.last?.chain ?? forwardMessages(lattice);
  const backward = backwardMessages(lattice);
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
  let state = 0;
  const rows = rowsAt(lattice, t);
  for (let g = 0; g < rows; g++) {
    for (let h = 0; h < width; h++, state++) {
      const total = (forward[state]! + backward[state]!) | 0;
      if (total < result[h]!) result[h] = total;
    }
  }
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
  path[t] = state.placement;
  let current = state;
  for (let earlier = t - 1; earlier >= 0; earlier--) {
    current = predecessor(lattice, earlier, forward.at(earlier), current);
    path[earlier] = current.placement;
  }
  current = state;
  for (let slot = t; slot + 1 < lattice.slots.length; slot++) {
    current = successor(lattice, slot, backwardAt(backward, slot + 1), current);
    path[slot + 1] = current.placement;
  }
  return { path, cost: pathCost(lattice, path) };
}

const isSameState = (a: State, b: State): boolean => a.memory === b.memory && a.placement === b.placement;

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

/** The first state of slot t, by pitch, placement and memory, from which a state of slot t + 1 is reached at the least cost. */
function predecessor(lattice: Lattice, t: number, forward: Sums, { memory: q, placement: to }: State): State {
  const { placements, pitches, groupStart, moves, stepCosts, rules, ruleOf } = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const { placementCount } = lattice;
  const rows = rowsAt(lattice, t);
  const width = placements.length;
  const columns = next.pitches.length;
  const n = pitchAt(next, to);
  const target = next.placements[to]!;
  let least = infinite;
  let memory = 0;
  let placement = 0;
  for (let b = 0; b < pitches.length; b++) {
    const step = stepCosts[b * columns + n]!;
    if (step >= barrier) continue;
    const { next: leads, costs } = rules[ruleOf[b * columns + n]!]!;
    for (let g = 0; g < rows; g++) {
      if (leads[g] !== q || costs[g]! >= barrier) continue;
      const melody = costs[g]! + step;
      for (let h = groupStart[b]!; h < groupStart[b + 1]!; h++) {
        const move = moves.costs[moveIndex(moves, placementCount, placements[h]!, target)]!;
        const sum = forward[g * width + h]! + melody + move;
        // Memory states come one by one here: of equal sums the lower placement goes first all the same.
        if (sum > least || (sum === least && h >= placement)) continue;
        least = sum;
        memory = g;
        placement = h;
      }
    }
  }
  return { memory, placement };
}

/** The first state of slot t + 1 that goes on from a state of slot t at the least cost. */
function successor(lattice: Lattice, t: number, after: Sums, { memory: g, placement: h }: State): State {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const columns = next.pitches.length;
  const width = next.placements.length;
  const b = pitchAt(slot, h);
  let least = 2 * infinite;
  let found: State = { memory: g, placement: 0 };
  for (let n = 0; n < columns; n++) {
    const step = slot.stepCosts[b * columns + n]!;
    const rule = slot.rules[slot.ruleOf[b * columns + n]!]!;
    if (step >= barrier || rule.costs[g]! >= barrier) continue;
    const melody = step + rule.costs[g]! + next.pitchCosts[n]!;
    const memory = rule.next[g]!;
    for (let to = next.groupStart[n]!; to < next.groupStart[n + 1]!; to++) {
      const at = moveIndex(slot.moves, lattice.placementCount, slot.placements[h]!, next.placements[to]!);
      const move = slot.moves.costs[at]!;
      const sum = melody + move + next.placementCosts[to]! + after[memory * width + to]!;
      if (sum >= least) continue;
      least = sum;
      found = { memory, placement: to };
    }
  }
  return found;
}
