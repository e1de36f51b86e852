// What a step costs in the light of what came before it: the rules of the line, and pairs of steps as people make them.
import weights from '../../../../shared/weights/music.json' with { type: 'json' };
import { rules, rulesFor, sizeOf, turnsAt, type Memory, type Step } from '../grammar';
import type { Feature } from './feature';

/** Arguments: a step and the memory of the line before it. */
export type GrammarFeature = Feature<[Step, Memory]>;

/** Index of the direction in a cell of the table of pairs: on, or back. */
export const pairCell = (memory: Memory, step: number): 0 | 1 => (turnsAt(memory, step) ? 1 : 0);

const pairFeature: GrammarFeature = {
  name: 'two steps in a row',
  amount: (step, memory) => {
    if (step.manner !== 'walks' || memory.size === null) return 0;
    return weights.pairs[memory.size]![sizeOf(step.step)]![pairCell(memory, step.step)]!;
  },
};

/** One feature a rule, by its name. */
const ruleFeatures: readonly GrammarFeature[] = rules.map((rule) => ({
  name: rule.name,
  amount: (step, memory) =>
    rulesFor(step).includes(rule) && rule.isBroken(step, memory) ? rule.strength : 0,
}));

export const grammarFeatures: readonly GrammarFeature[] = [pairFeature, ...ruleFeatures];
