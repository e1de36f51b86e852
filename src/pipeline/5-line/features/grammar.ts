// What a step costs in the light of what came before it: the rules of the line, and pairs of steps as people make them.
import weights from '../../../../shared/weights/music.json' with { type: 'json' };
import {
  isBroken,
  rules,
  rulesFor,
  sizeOf,
  turnsAt,
  type Breaks,
  type Memory,
  type Rule,
  type Step,
} from '../grammar';
import { inMilli, type Feature } from './feature';

/** Arguments: a step and the memory of the line before it. */
export type GrammarFeature = Feature<[Step, Memory]>;

/** Index of the direction in a cell of the table of pairs: on, or back. */
export const pairCell = (memory: Memory, step: number): 0 | 1 => (turnsAt(memory, step) ? 1 : 0);

function pairEnergy(step: Step, memory: Memory): number {
  if (step.manner !== 'walks' || memory.size === null) return 0;
  return weights.pairs[memory.size]![sizeOf(step.step)]![pairCell(memory, step.step)]!;
}

/** The same in integer units, by the sizes of the two steps and the cell. */
const pairCosts: readonly (readonly (readonly number[])[])[] = weights.pairs.map((second) =>
  second.map((cells) => cells.map(inMilli)),
);

/** One feature a rule, by its name, besides the pairs. */
export const grammarFeatures: readonly GrammarFeature[] = [
  { name: 'two steps in a row', amount: pairEnergy },
  ...rules.map((rule): GrammarFeature => ({
    name: rule.name,
    amount: (step, memory) =>
      rulesFor(step).includes(rule) && isBroken(rule, step, memory) ? rule.strength : 0,
  })),
];

/** What a step costs by memory, in integer units; null where no line makes it in that memory. */
export type GrammarCost = (memory: Memory) => number | null;

/**
 * The sum of the features of a step, worked out as far as the step alone decides.
 * @param isStrict what is never done is left out; else it costs what it costs where nothing else is left
 */
export function grammarCost(step: Step, isStrict: boolean): GrammarCost | null {
  let fixed = 0;
  const open: { rule: Rule; breaks: Exclude<Breaks, boolean> }[] = [];
  for (const rule of rulesFor(step)) {
    const breaks = rule.breaks(step);
    if (breaks === false) continue;
    if (breaks !== true) open.push({ rule, breaks });
    else if (isStrict && rule.isNever) return null;
    else fixed += inMilli(rule.strength);
  }
  const size = sizeOf(step.step);
  const isPaired = step.manner === 'walks';
  return (memory) => {
    let sum = fixed;
    if (isPaired && memory.size !== null) sum += pairCosts[memory.size]![size]![pairCell(memory, step.step)]!;
    for (const { rule, breaks } of open) {
      if (!breaks(memory)) continue;
      if (isStrict && rule.isNever) return null;
      sum += inMilli(rule.strength);
    }
    return sum;
  };
}
