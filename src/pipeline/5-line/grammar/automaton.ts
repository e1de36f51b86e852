// The automaton as the solver takes it: for every step that differs in what the rules see, the memory it leads to and its cost.
import type { StepRule } from '../../4-solver';
import { infinite } from '../../4-solver';
import { advance, memories, memoryNumber, type Memory } from './memory';
import { stepNumber, type Step } from './step';

/** What a step costs in a memory, in integer units. */
export type StepCost = (step: Step, memory: Memory) => number;

/** True for memories a slot can be in: at a target all counters are 0. */
const canBe = ({ fromTarget }: Step, { turns, leaps, encloses }: Memory): boolean =>
  !fromTarget || (turns === 0 && leaps === 0 && !encloses);

/** Rows of the automaton, made when they are first asked for; steps that agree share one. */
export class Automaton {
  readonly #cost: StepCost;
  readonly #rules = new Map<number, StepRule>();

  constructor(cost: StepCost) {
    this.#cost = cost;
  }

  ruleOf(step: Step): StepRule {
    const number = stepNumber(step);
    const found = this.#rules.get(number);
    if (found) return found;
    const made: StepRule = {
      next: Uint8Array.from(memories, (memory) =>
        canBe(step, memory) ? memoryNumber(step.manner === 'adorns' ? memory : advance(memory, step)) : 0,
      ),
      costs: Int32Array.from(memories, (memory) =>
        canBe(step, memory) ? this.#cost(step, memory) : infinite,
      ),
    };
    this.#rules.set(number, made);
    return made;
  }
}
