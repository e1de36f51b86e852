// From candidates and features to the numbers that the solver works on.
//
// Pre: no candidate set is empty. Post: a lattice with a layer for each candidate set, whose path cost is the sum of the
// features of the line that the path stands for.
import { getOrMake, makeCache, Numbers, type Cache } from '../../cache';
import type { Placement } from '../../instrument';
import { kindOfArrival, kindOfSlot, type SlotCandidates } from '../3-candidates';
import {
  anyStep,
  emptySolvedCache,
  infinite,
  Vectors,
  type Lattice,
  type LatticeSlot,
  type MoveTable,
  type SolvedCache,
  type StepRule,
} from '../4-solver';
import { Automaton, memories, memoriesSince, memoryNumber, startOfLine, stepsFrom } from './grammar';
import { moveContextOf, type CostModel } from './cost-model';
import { grammarCost, sumOfThree, sumOfTwo } from './features';
import { moveTable } from './move-table';

/** What the steps from one slot to the next cost, and the rules they follow. */
interface Steps {
  readonly costs: Int32Array;
  readonly rules: readonly StepRule[];
  readonly ruleOf: Uint16Array;
}

const noSteps: Steps = { costs: new Int32Array(0), rules: [], ruleOf: new Uint16Array(0) };

function stepsBetween(
  model: CostModel,
  automaton: Automaton | null,
  from: SlotCandidates,
  to: SlotCandidates,
): Steps {
  const costs = new Int32Array(from.pitches.length * to.pitches.length);
  const ruleOf = new Uint16Array(costs.length);
  const rules: StepRule[] = automaton ? [] : [anyStep];
  const numbers = new Map<StepRule, number>();
  const stepOf = stepsFrom(from.slot, to.slot);
  let index = 0;
  for (const a of from.pitches) {
    for (const b of to.pitches) {
      costs[index] = sumOfThree(model.step, from.slot, a, b);
      if (automaton) {
        const rule = automaton.ruleOf(stepOf(a, b));
        if (rule) ruleOf[index] = getOrMake(numbers, rule, () => rules.push(rule) - 1);
        else costs[index] = infinite;
      }
      index++;
    }
  }
  return { costs, rules, ruleOf };
}

/**
 * What stays the same from one lattice to the next while bass, hand, tempo and comfort do. Whoever keeps it starts anew
 * when any of these changes.
 */
export interface KeptTables {
  readonly holdCosts: Map<readonly Placement[], readonly number[]>;
  readonly moves: Map<string, MoveTable>;
  /** Slots by everything that decides their costs: the same slot again is the same object. */
  readonly slots: Cache<string, LatticeSlot>;
  /** Numbers of the sets of candidates and of the kinds of slot and of arrival met so far. */
  readonly sets: Numbers<readonly Placement[]>;
  readonly kinds: Numbers<string>;
  /** Steps by kind of slot and of arrival and the pitches on both sides: a mask seldom takes a pitch away altogether. */
  readonly steps: Cache<string, Steps>;
  /** What the solver remembers. */
  solver: SolvedCache;
}

/** Slots, steps, sets and kinds, each, that are kept: as many as a long form of different bars has. */
const mostSlots = 8192;

export const emptyTables = (): KeptTables => ({
  holdCosts: new Map(),
  moves: new Map(),
  slots: makeCache({ most: mostSlots }),
  sets: new Numbers(mostSlots),
  kinds: new Numbers(mostSlots),
  steps: makeCache({ most: mostSlots }),
  solver: emptySolvedCache(),
});

/** The rules as the solver takes them, without what is never done and with it; they depend on no player, bass or tempo. */
export interface Automata {
  readonly strict: Automaton;
  readonly lenient: Automaton;
}

export const makeAutomata = (): Automata => ({
  strict: new Automaton((step) => grammarCost(step, true)),
  lenient: new Automaton((step) => grammarCost(step, false)),
});

/** Memories by notes since the last target. */
const rowsSince = [0, 1, 2, 3].map(memoriesSince);

function integersOf<T>(list: readonly T[], of: (one: T) => number): Int32Array {
  const integers = new Int32Array(list.length);
  for (let k = 0; k < list.length; k++) integers[k] = of(list[k]!);
  return integers;
}

function makeSlot(
  model: CostModel,
  one: SlotCandidates,
  holdCosts: readonly number[],
  moves: MoveTable,
  { costs, rules, ruleOf }: Steps,
): LatticeSlot {
  return {
    pitches: Int32Array.from(one.pitches),
    pitchCosts: integersOf(one.pitches, (midi) => sumOfTwo(model.pitch, one.slot, midi)),
    placements: integersOf(one.placements, ({ id }) => id),
    placementCosts: integersOf(
      one.placements,
      (placement) => holdCosts[placement.id]! + sumOfTwo(model.place, one.slot, placement),
    ),
    groupStart: Int32Array.from(one.groupStart),
    stepCosts: costs,
    rules,
    ruleOf,
    moves,
    ...(model.grammar.length === 0 ? {} : { memoryRows: rowsSince[one.slot.sinceTarget]! }),
  };
}

/** @param placements the table that placement ids point into */
export function buildLattice(
  candidates: readonly SlotCandidates[],
  placements: readonly Placement[],
  model: CostModel,
  tables: KeptTables = emptyTables(),
  automata: Automata = makeAutomata(),
  vectors: Vectors = new Vectors(),
): Lattice {
  const automaton = model.grammar.length === 0 ? null : automata[model.isStrict ? 'strict' : 'lenient'];
  const holdCosts = getOrMake(tables.holdCosts, placements, () =>
    placements.map((placement) => sumOfTwo(model.hold, model.player, placement)),
  );
  const setNumber = (one: SlotCandidates | undefined): number => (one ? tables.sets.of(one.placements) : -1);
  const slots = candidates.map((one, index): LatticeSlot => {
    const next = candidates[index + 1];
    const times = [one.slot.ticks, (next ?? one).slot.ticks, one.slot.restAfter];
    const movesKey = [placements.length, ...times].join();
    const kind = tables.kinds.of(kindOfSlot(one.slot));
    const arrival = next ? tables.kinds.of(kindOfArrival(next.slot)) : -1;
    const key = [setNumber(one), setNumber(next), movesKey, kind, arrival].join(' ');
    return getOrMake(tables.slots, key, () => {
      // Slots of the same lengths share one table.
      const moves = getOrMake(tables.moves, movesKey, () =>
        moveTable(model, placements, moveContextOf(model, one.slot, (next ?? one).slot)),
      );
      const steps = next
        ? getOrMake(tables.steps, [kind, arrival, ...one.pitches, 'to', ...next.pitches].join(), () =>
            stepsBetween(model, automaton, one, next),
          )
        : noSteps;
      return makeSlot(model, one, holdCosts, moves, steps);
    });
  });
  return {
    slots,
    placementCount: placements.length,
    memoryCount: automaton ? memories.length : 1,
    startMemory: automaton ? memoryNumber(startOfLine) : 0,
    cache: tables.solver,
    vectors,
  };
}
