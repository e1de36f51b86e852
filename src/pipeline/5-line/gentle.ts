// No single hard move: a lattice in which no shift is harder than some measure.
//
// A shift's measure is its pressure: movement time (Fitts) over the time there is. The least measure that leaves a line is
// the minimax of the shifts over all paths, found exactly by one forward pass in which "hardest so far" takes the place of
// the sum (Hori and Sagayama use the same for guitars). Moves above the measure are then blocked; everything else about the
// lattice stays, so takes, prices and limits work in it as in any other.
import { getOrMake } from '../../cache';
import type { Placement } from '../../instrument';
import type { Limits, SlotCandidates } from '../3-candidates';
import { infinite, kindOf, moveIndex, type Lattice, type LatticeSlot, type MoveTable } from '../4-solver';
import { moveContextOf, type CostModel } from './cost-model';
import { moveBetween, takesTime } from './features';

/** What is taken off a limit before comparing, for pressures that come out of the same sum in another order. */
const tolerance = 1e-9;

/** Pressure of the shift between any two placements, each where its cost stands; 0 where the hand does not shift. */
type Pressures = Float64Array;

/** A table of moves without those above a measure, and the slots that were given it: the same slot again is the same object. */
interface Blocked {
  readonly most: number;
  readonly moves: MoveTable;
  readonly slots: WeakMap<LatticeSlot, LatticeSlot>;
}

// Both belong to a table of moves, which tells instrument, placements and times apart, and go when it does.
const knownPressures = new WeakMap<MoveTable, Pressures>();
const knownBlocked = new WeakMap<MoveTable, Blocked>();

/** The placements that moves tell apart: one for all that differ in a count alone. */
function kindsOf(moves: MoveTable, placements: readonly Placement[]): readonly Placement[] {
  const kinds: Placement[] = [];
  placements.forEach((placement, id) => (kinds[kindOf(moves, id)] ??= placement));
  return kinds;
}

/** One table for each table of moves, since slots of the same lengths share theirs. */
function pressuresOf(
  lattice: Lattice,
  candidates: readonly SlotCandidates[],
  placements: readonly Placement[],
  model: CostModel,
): ReadonlyMap<MoveTable, Pressures> {
  const result = new Map<MoveTable, Pressures>();
  lattice.slots.slice(0, -1).forEach(({ moves }, t) => {
    if (result.has(moves)) return;
    const known = knownPressures.get(moves);
    if (known) {
      result.set(moves, known);
      return;
    }
    const context = moveContextOf(model, candidates[t]!.slot, candidates[t + 1]!.slot);
    const table = new Float64Array(moves.costs.length);
    let index = 0;
    const kinds = kindsOf(moves, placements);
    for (const from of kinds) {
      for (const to of kinds) {
        if (from.position !== to.position) {
          const move = moveBetween(context, from, to);
          if (takesTime(move)) table[index] = move.pressure;
        }
        index++;
      }
    }
    knownPressures.set(moves, table);
    result.set(moves, table);
  });
  return result;
}

/** The least that the hardest shift of a path can be; Infinity when no path is left at all. */
function leastHardest(lattice: Lattice, pressures: ReadonlyMap<MoveTable, Pressures>): number {
  const { slots, placementCount } = lattice;
  let hardest = new Float64Array(slots[0]?.placements.length ?? 0);
  for (let t = 0; t + 1 < slots.length; t++) {
    const { placements: from, moves } = slots[t]!;
    const { placements: to } = slots[t + 1]!;
    const table = pressures.get(moves)!;
    const next = new Float64Array(to.length).fill(Number.POSITIVE_INFINITY);
    for (let h = 0; h < from.length; h++) {
      const before = hardest[h]!;
      for (let k = 0; k < to.length; k++) {
        const at = moveIndex(moves, placementCount, from[h]!, to[k]!);
        if (moves.costs[at]! >= infinite) continue;
        const after = Math.max(before, table[at]!);
        if (after < next[k]!) next[k] = after;
      }
    }
    hardest = next;
  }
  return hardest.reduce((least, one) => Math.min(least, one), Number.POSITIVE_INFINITY);
}

/** The last measure asked for is remembered. */
function blockedAbove(moves: MoveTable, pressures: Pressures, most: number): Blocked {
  const known = knownBlocked.get(moves);
  if (known?.most === most) return known;
  const costs = moves.costs.map((cost, index) => (pressures[index]! > most ? infinite : cost));
  const made = { most, moves: { ...moves, costs }, slots: new WeakMap<LatticeSlot, LatticeSlot>() };
  knownBlocked.set(moves, made);
  return made;
}

function withBlocked(slot: LatticeSlot, { moves, slots }: Blocked): LatticeSlot {
  return getOrMake(slots, slot, () => ({ ...slot, moves }));
}

/** A shift that takes just the time there is for it. */
const itsTime = 1;

function mostUnder(hardest: NonNullable<Limits['hardest']>, least: () => number): number {
  if (hardest === 'least') return least();
  return hardest === 'gentle' ? Math.max(itsTime, least()) : hardest;
}

/**
 * The lattice without the shifts that are harder than `hardest`. Under a word a path is always left where the lattice had
 * one; under a number there may be none.
 *
 * @param placements the table that placement ids point into
 */
export function gentleLattice(
  lattice: Lattice,
  candidates: readonly SlotCandidates[],
  placements: readonly Placement[],
  model: CostModel,
  hardest: NonNullable<Limits['hardest']>,
): Lattice {
  const pressures = pressuresOf(lattice, candidates, placements, model);
  const most = mostUnder(hardest, () => leastHardest(lattice, pressures)) + tolerance;
  const slots = lattice.slots.map((slot) => {
    const table = pressures.get(slot.moves);
    return table ? withBlocked(slot, blockedAbove(slot.moves, table, most)) : slot;
  });
  return { ...lattice, slots };
}
