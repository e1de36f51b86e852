// From candidates and features to the numbers that the solver works on.
//
// Pre: no candidate set is empty. Post: a lattice with a layer for each candidate set, whose path cost is the sum of the
// features of the line that the path stands for.
import type { Placement } from '../../instrument';
import type { Slot } from '../2-timeline';
import { followsOn, stayOf, type SlotCandidates } from '../3-candidates';
import { infinite, type Lattice, type LatticeSlot, type MoveTable } from '../4-solver';
import { moveContextOf, type CostModel } from './cost-model';
import { sumOfThree, sumOfTwo, type MoveContext } from './features';

/** Half the width of the turn table: the largest step between any two pitches on offer. */
function widestStep(candidates: readonly SlotCandidates[]): number {
  const pitches = candidates.flatMap((one) => [one.pitches[0]!, one.pitches.at(-1)!]);
  return Math.max(...pitches) - Math.min(...pitches);
}

function turnTable(model: CostModel, reach: number): Int32Array {
  const width = 2 * reach + 1;
  const result = new Int32Array(width * width);
  for (let first = -reach; first <= reach; first++) {
    for (let second = -reach; second <= reach; second++) {
      result[(first + reach) * width + second + reach] = sumOfTwo(model.turn, first, second);
    }
  }
  return result;
}

/** All moves between any two placements. Slots of the same lengths share one table. */
function moveTable(
  model: CostModel,
  placements: readonly Placement[],
  context: MoveContext,
  toSlot: Slot,
): MoveTable {
  const costs = new Int32Array(placements.length * placements.length);
  const staysCount = placements.some((placement) => stayOf(placement) > 0);
  let index = 0;
  for (const from of placements) {
    for (const to of placements) {
      const isPossible = !staysCount || followsOn(from, to, toSlot);
      costs[index++] = isPossible ? sumOfThree(model.move, context, from, to) : infinite;
    }
  }
  return { costs };
}

function stepTable(model: CostModel, from: SlotCandidates, to: SlotCandidates): Int32Array {
  const result = new Int32Array(from.pitches.length * to.pitches.length);
  let index = 0;
  for (const a of from.pitches) {
    for (const b of to.pitches) {
      result[index++] = sumOfThree(model.step, from.slot, a, b) + sumOfThree(model.leave, from.slot, a, b);
    }
  }
  return result;
}

const noSteps = new Int32Array(0);

/**
 * Tables that stay the same from one lattice to the next while bass, hand, tempo and comfort do. Whoever keeps one starts
 * a new one when any of these changes.
 */
export interface KeptTables {
  readonly holdCosts: Map<readonly Placement[], readonly number[]>;
  readonly moves: Map<string, MoveTable>;
  readonly turns: Map<number, Int32Array>;
}

export const emptyTables = (): KeptTables => ({ holdCosts: new Map(), moves: new Map(), turns: new Map() });

/** The value kept under a key, made when it is not there. */
function kept<K, V>(map: Map<K, V>, key: K, make: () => V): V {
  const found = map.get(key);
  if (found !== undefined) return found;
  const made = make();
  map.set(key, made);
  return made;
}

/** @param placements the table that placement ids point into */
export function buildLattice(
  candidates: readonly SlotCandidates[],
  placements: readonly Placement[],
  model: CostModel,
  tables: KeptTables = emptyTables(),
): Lattice {
  const reach = widestStep(candidates);
  const holdCosts = kept(tables.holdCosts, placements, () =>
    placements.map((placement) => sumOfTwo(model.hold, model.player, placement)),
  );
  const movesAfter = (index: number): MoveTable => {
    const from = candidates[index]!.slot;
    const to = candidates[index + 1]?.slot ?? from;
    const key = [placements.length, from.ticks, to.ticks, from.restAfter].join();
    return kept(tables.moves, key, () => moveTable(model, placements, moveContextOf(model, from, to), to));
  };
  const slots = candidates.map((one, index): LatticeSlot => {
    const next = candidates[index + 1];
    return {
      pitches: Int32Array.from(one.pitches),
      pitchCosts: Int32Array.from(one.pitches, (midi) => sumOfTwo(model.pitch, one.slot, midi)),
      placements: Int32Array.from(one.placements, (placement) => placement.id),
      placementCosts: Int32Array.from(
        one.placements,
        (placement) => holdCosts[placement.id]! + sumOfTwo(model.place, one.slot, placement),
      ),
      groupStart: Int32Array.from(one.groupStart),
      stepCosts: next ? stepTable(model, one, next) : noSteps,
      moves: movesAfter(index),
    };
  });
  const turnCosts = kept(tables.turns, reach, () => turnTable(model, reach));
  return { slots, placementCount: placements.length, turnCosts, reach };
}
