// One change at a time: of all paths of a lattice those with the fewest notes other than in a line before, of these the
// cheapest, of these one with the fewest fingers other than before. Exact, in this order.
//
// Pre: a lattice and, by slot, the note that the line before has there. Post: a path, null when there is none.
// Method: a surcharge on every other pitch that is larger than any two paths can differ in cost, so that one pass finds both
// minima. Where such a surcharge would not fit the integers of the tables, a first pass counts changes alone, and the
// surcharge is doubled until the cheapest path under it has no more of them: it is then the cheapest of those with the
// fewest, since any other with as few bears the same surcharges. Ties in cost are settled on the states that lie on a best
// path, which are few.
import { getOrMake } from '../3-candidates';
import {
  barrier,
  bestPath,
  clamp,
  forwardMessages,
  infinite,
  pathCost,
  pitchAt,
  rowsAt,
  type Lattice,
  type LatticeSlot,
  type MoveTable,
  type Path,
  type StepRule,
} from '../4-solver';

/** What the line before has at a slot. */
export interface NoteBefore {
  readonly midi: number;
  /** Whether a placement of the slot, by index, is held as that note was. */
  readonly isHeldAlike: (placement: number) => boolean;
}

/** By slot; null where the line before has no note. */
export type Before = readonly (NoteBefore | null)[];

/** Notes of a path that the line before has otherwise, or not at all, of the first `played` slots. */
export const changedIn = (lattice: Lattice, path: Path, before: Before): number =>
  before.filter((note, t) => {
    const slot = lattice.slots[t]!;
    return note?.midi !== slot.pitches[pitchAt(slot, path[t]!)]!;
  }).length;

const mostOf = (costs: ArrayLike<number>): number => {
  let most = 0;
  for (let at = 0; at < costs.length; at++)
    if (costs[at]! < barrier && Math.abs(costs[at]!) > most) most = Math.abs(costs[at]!);
  return most;
};

/** The most that a path can cost more than another: a bound, from the largest entries of each slot. */
function costRange({ slots }: Lattice): number {
  const ofMoves = new Map<LatticeSlot['moves'], number>();
  return slots.reduce((sum, slot) => {
    const moves = ofMoves.get(slot.moves) ?? mostOf(slot.moves.costs);
    ofMoves.set(slot.moves, moves);
    const rules = Math.max(0, ...slot.rules.map(({ costs }) => mostOf(costs)));
    return (
      sum +
      2 * (mostOf(slot.pitchCosts) + mostOf(slot.placementCosts) + mostOf(slot.stepCosts) + moves + rules)
    );
  }, 0);
}

/** @param surcharge what another note costs; `infinite` where there is to be none */
function surcharged(lattice: Lattice, before: Before, surcharge: number): Lattice {
  const { slots, placementCount, memoryCount, startMemory } = lattice;
  const made = slots.map((slot, t) => {
    const note = before[t];
    if (note === undefined || note === null) return slot;
    const pitchCosts = slot.pitchCosts.map((cost, p) =>
      slot.pitches[p] === note.midi ? cost : clamp(cost + surcharge),
    );
    return { ...slot, pitchCosts };
  });
  return { slots: made, placementCount, memoryCount, startMemory };
}

const free = (costs: Int32Array): Int32Array => costs.map((cost) => (cost >= barrier ? infinite : 0));

/** The lattice with everything free that may be done at all. */
function costless(lattice: Lattice): Lattice {
  const freeRules = new Map<StepRule, StepRule>();
  const freeMoves = new Map<MoveTable, MoveTable>();
  const { placementCount, memoryCount, startMemory } = lattice;
  const slots = lattice.slots.map((slot) => ({
    ...slot,
    pitchCosts: free(slot.pitchCosts),
    placementCosts: free(slot.placementCosts),
    stepCosts: free(slot.stepCosts),
    rules: slot.rules.map((rule) =>
      getOrMake(freeRules, rule, () => ({ next: rule.next, costs: free(rule.costs) })),
    ),
    moves: getOrMake(freeMoves, slot.moves, () => ({ costs: free(slot.moves.costs) })),
  }));
  return { slots, placementCount, memoryCount, startMemory };
}

/** Surcharges of this many changes in a row of neighbouring states must fit under the barrier. */
const room = 32;
const largest = Math.floor(barrier / room);
const firstSurcharge = 1 << 16;
/** Where costs differ by more than any line's do, surcharges go on to what four changes in a row still fit with. */
const mostSurcharge = Math.floor(barrier / 6);

/** The lattice whose best path has the fewest changes and of these the least cost; null when there is no path. */
function weighed(lattice: Lattice, before: Before): Lattice | null {
  const enough = costRange(lattice) + 1;
  if (enough <= largest) return surcharged(lattice, before, enough);
  const fewest = bestPath(surcharged(costless(lattice), before, 1));
  if (!fewest) return null;
  const least = changedIn(lattice, fewest.path, before);
  for (let surcharge = firstSurcharge; ; surcharge *= 2) {
    const tried = surcharged(lattice, before, surcharge);
    const best = bestPath(tried);
    const isEnough = !best || changedIn(lattice, best.path, before) === least;
    if (isEnough || 2 * surcharge > mostSurcharge) return tried;
  }
}

/** A state of a slot that lies on a best path. */
interface Tight {
  readonly memory: number;
  readonly placement: number;
  /** Those of the slot before from which it is reached at the least cost. */
  readonly from: Tight[];
  /** Fingers other than before on the way to it, the fewest, and the state they come from. */
  fingers: number;
  best: Tight | null;
}

type Messages = ReturnType<typeof forwardMessages>;

const tight = (state: number, width: number): Tight => ({
  memory: Math.floor(state / width),
  placement: state % width,
  from: [],
  fingers: 0,
  best: null,
});

/** The states of the last slot that end a best path; none where there is no path. */
function finalStates({ slots }: Lattice, forward: Messages): readonly Tight[] {
  const last = slots.length - 1;
  const sums = forward.at(last);
  const least = sums.reduce((a, b) => Math.min(a, b), infinite);
  if (least >= barrier) return [];
  const width = slots[last]!.placements.length;
  return [...sums.keys()].filter((state) => sums[state] === least).map((state) => tight(state, width));
}

/** Numbers of the states of slot t from which a state of the next slot is reached at the least cost. */
function reachedFrom(lattice: Lattice, t: number, sums: Int32Array, to: Tight): readonly number[] {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const columns = next.pitches.length;
  const n = pitchAt(next, to.placement);
  const target = next.placements[to.placement]!;
  const width = slot.placements.length;
  const rows = rowsAt(lattice, t);
  let least: number = barrier;
  let found: number[] = [];
  for (let b = 0; b < slot.pitches.length; b++) {
    const step = slot.stepCosts[b * columns + n]!;
    if (step >= barrier) continue;
    const { next: leads, costs } = slot.rules[slot.ruleOf[b * columns + n]!]!;
    for (let g = 0; g < rows; g++) {
      if (leads[g] !== to.memory || costs[g]! >= barrier) continue;
      for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
        const move = slot.moves.costs[slot.placements[h]! * lattice.placementCount + target]!;
        const sum = sums[g * width + h]! + costs[g]! + step + move;
        if (sum > least || sum >= barrier) continue;
        if (sum < least) found = [];
        least = sum;
        found.push(g * width + h);
      }
    }
  }
  return found;
}

/** States of every slot that lie on a best path, each with those it comes from. */
function tightStates(lattice: Lattice, forward: Messages): readonly (readonly Tight[])[] {
  let after = finalStates(lattice, forward);
  const states = [after];
  for (let t = lattice.slots.length - 2; t >= 0; t--) {
    const sums = forward.at(t);
    const width = lattice.slots[t]!.placements.length;
    const made = new Map<number, Tight>();
    for (const to of after)
      for (const state of reachedFrom(lattice, t, sums, to)) {
        const from = made.get(state) ?? tight(state, width);
        made.set(state, from);
        to.from.push(from);
      }
    after = [...made.entries()].sort(([a], [b]) => a - b).map(([, one]) => one);
    states.unshift(after);
  }
  return states;
}

const fewer = (a: Tight, b: Tight): Tight => (b.fingers < a.fingers ? b : a);

/** The best path of a lattice with the fewest fingers other than before; null when there is no path. */
function fewestFingers(lattice: Lattice, before: Before): Path | null {
  const states = tightStates(lattice, forwardMessages(lattice));
  if (states.at(-1)!.length === 0) return null;
  states.forEach((some, t) => {
    const note = before[t];
    for (const state of some) {
      state.best = state.from.length === 0 ? null : state.from.reduce(fewer);
      const own = !note || note.isHeldAlike(state.placement) ? 0 : 1;
      state.fingers = (state.best?.fingers ?? 0) + own;
    }
  });
  const path = new Int32Array(states.length);
  let state: Tight | null = states.at(-1)!.reduce(fewer);
  for (let t = states.length - 1; state; t--, state = state.best) path[t] = state.placement;
  return path;
}

/** A path with its cost, surcharges left out. */
export interface FewestChanges {
  readonly path: Path;
  readonly cost: number;
  readonly changed: number;
}

function leastChanged(lattice: Lattice, before: Before): Path | null {
  const tried = weighed(lattice, before);
  return tried && fewestFingers(tried, before);
}

/**
 * @param before by slot that is played; the return to the top may be left out
 */
export function fewestChanges(lattice: Lattice, before: Before): FewestChanges | null {
  // Where every note can stay there is nothing to weigh, and little to search.
  const path = fewestFingers(surcharged(lattice, before, infinite), before) ?? leastChanged(lattice, before);
  return path && { path, cost: pathCost(lattice, path), changed: changedIn(lattice, path, before) };
}
