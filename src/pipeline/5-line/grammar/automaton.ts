// The automaton as the solver takes it: for every step that differs in what the rules see, the memory it leads to and its cost.
import { getOrMake } from '../../../cache';
import { infinite, type StepRule } from '../../4-solver';
import { advance, memories, memoriesSince, memoryNumber, sizeOf, type Memory } from './memory';
import { stepNumber, type Step } from './step';

/** What a step costs by memory, in integer units: null where it is never made. */
export type StepCost = (step: Step) => ((memory: Memory) => number | null) | null;

/** At a target all counters are 0: the note left can be in no other memories than the first of them. */
const atTarget = memoriesSince(0);

/** Steps that agree in this lead every memory to the same next one. */
const readKey = ({ step, fromTarget, toTarget, encloses }: Step): number =>
  [fromTarget, toTarget, encloses].reduce(
    (key, flag) => key * 2 + (flag ? 1 : 0),
    sizeOf(step) * 3 + Math.sign(step) + 1,
  );

/** Rows of the automaton, made when they are first asked for; steps that agree share one. */
export class Automaton {
  readonly #cost: StepCost;
  /** By what is read of a step. */
  readonly #advanced = new Map<number, Uint16Array>();
  readonly #rules = new Map<number, StepRule | null>();

  constructor(cost: StepCost) {
    this.#cost = cost;
  }

  /** Null for a step that is made in no memory. */
  ruleOf(step: Step): StepRule | null {
    return getOrMake(this.#rules, stepNumber(step), () => this.#make(step));
  }

  #make(step: Step): StepRule | null {
    const cost = this.#cost(step);
    if (!cost) return null;
    const advanced = getOrMake(this.#advanced, readKey(step), () =>
      Uint16Array.from(memories, (memory) => memoryNumber(advance(memory, step))),
    );
    const next = new Uint16Array(memories.length);
    const costs = new Int32Array(memories.length).fill(infinite);
    const count = step.fromTarget ? atTarget : memories.length;
    for (let g = 0; g < count; g++) {
      const own = cost(memories[g]!);
      if (own === null) continue;
      costs[g] = own;
      next[g] = step.manner === 'adorns' ? g : advanced[g]!;
    }
    return { next, costs };
  }
}
