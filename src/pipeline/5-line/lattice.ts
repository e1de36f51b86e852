// From candidates and features to the numbers that the solver works on.
//
// Pre: no candidate set is empty. Post: a lattice with a layer for each candidate set, whose path cost is the sum of the
// features of the line that the path stands for.
import type { Placement } from '../../instrument';
import { getOrMake, kindOfSlot, type SlotCandidates } from '../3-candidates';
import { emptyKept, type Kept, type Lattice, type LatticeSlot, type MoveTable } from '../4-solver';
import { moveContextOf, type CostModel } from './cost-model';
import { sumOfThree, sumOfTwo } from './features';
import { moveTable } from './move-table';

/** Half the width of the turn table: the largest step between any two pitches of the instrument. */
function widestStep(placements: readonly Placement[]): number {
  const pitches = placements.map(({ midi }) => midi);
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
 * What stays the same from one lattice to the next while bass, hand, tempo and comfort do. Whoever keeps it starts anew
 * when any of these changes.
 */
export interface KeptTables {
  readonly holdCosts: Map<readonly Placement[], readonly number[]>;
  readonly moves: Map<string, MoveTable>;
  readonly turns: Map<number, Int32Array>;
  /** Slots by everything that decides their costs: the same slot again is the same object. */
  readonly slots: Map<string, LatticeSlot>;
  /** Numbers of the sets of candidates and of the kinds of slot met so far. */
  readonly sets: Map<readonly Placement[], number>;
  readonly kinds: Map<string, number>;
  /** Steps by kind of slot and the pitches on both sides: a mask seldom takes a pitch away altogether. */
  readonly steps: Map<string, Int32Array>;
  /** What the solver remembers. */
  readonly solver: Kept;
}

export const emptyTables = (): KeptTables => ({
  holdCosts: new Map(),
  moves: new Map(),
  turns: new Map(),
  slots: new Map(),
  sets: new Map(),
  kinds: new Map(),
  steps: new Map(),
  solver: emptyKept(),
});

/** Slots beyond which those kept are forgotten: as many as a long form of different bars has. */
const mostSlots = 8192;

function makeSlot(
  model: CostModel,
  one: SlotCandidates,
  holdCosts: readonly number[],
  moves: MoveTable,
  steps: Int32Array,
): LatticeSlot {
  return {
    pitches: Int32Array.from(one.pitches),
    pitchCosts: Int32Array.from(one.pitches, (midi) => sumOfTwo(model.pitch, one.slot, midi)),
    placements: Int32Array.from(one.placements, (placement) => placement.id),
    placementCosts: Int32Array.from(
      one.placements,
      (placement) => holdCosts[placement.id]! + sumOfTwo(model.place, one.slot, placement),
    ),
    groupStart: Int32Array.from(one.groupStart),
    stepCosts: steps,
    moves,
  };
}

/** @param placements the table that placement ids point into */
export function buildLattice(
  candidates: readonly SlotCandidates[],
  placements: readonly Placement[],
  model: CostModel,
  tables: KeptTables = emptyTables(),
): Lattice {
  const reach = widestStep(placements);
  const holdCosts = getOrMake(tables.holdCosts, placements, () =>
    placements.map((placement) => sumOfTwo(model.hold, model.player, placement)),
  );
  if (tables.slots.size > mostSlots) {
    for (const table of [tables.slots, tables.sets, tables.kinds, tables.steps]) table.clear();
  }
  const setNumber = (one: SlotCandidates | undefined): number =>
    one ? getOrMake(tables.sets, one.placements, () => tables.sets.size) : -1;
  const slots = candidates.map((one, index): LatticeSlot => {
    const next = candidates[index + 1];
    const times = [one.slot.ticks, (next ?? one).slot.ticks, one.slot.restAfter];
    const movesKey = [placements.length, ...times].join();
    const kind = getOrMake(tables.kinds, kindOfSlot(one.slot), () => tables.kinds.size);
    const key = [setNumber(one), setNumber(next), movesKey, kind].join(' ');
    return getOrMake(tables.slots, key, () => {
      // Slots of the same lengths share one table.
      const moves = getOrMake(tables.moves, movesKey, () =>
        moveTable(model, placements, moveContextOf(model, one.slot, (next ?? one).slot)),
      );
      const steps = next
        ? getOrMake(tables.steps, [kind, ...one.pitches, 'to', ...next.pitches].join(), () =>
            stepTable(model, one, next),
          )
        : noSteps;
      return makeSlot(model, one, holdCosts, moves, steps);
    });
  });
  const turnCosts = getOrMake(tables.turns, reach, () => turnTable(model, reach));
  return { slots, placementCount: placements.length, turnCosts, reach, kept: tables.solver };
}
