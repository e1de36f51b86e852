// The rules of a walking line, one predicate each: how far a step breaks or stretches the rule, 0 where it keeps it. Sentences
// and strengths are data (shared/grammar/rules.json); here stands only what a rule looks at.
import table from '../../../../shared/grammar/rules.json' with { type: 'json' };
import { isConcernName, type ConcernName } from './concerns';
import { leapSize, mostTurns, sizeOf, turnsAt, type Memory } from './memory';
import type { Step } from './step';

const semitone = 1;
const tone = 2;
const third = 3;
const majorThird = 4;
const fourth = 5;
const tritone = 6;
const fifth = 7;
const octave = 12;

const size = ({ step }: Step): number => Math.abs(step);
const isStep = (step: Step): boolean => size(step) <= tone && step.step !== 0;
const isThird = (step: Step): boolean => size(step) === third || size(step) === majorThird;
const isLeap = (step: Step): boolean => sizeOf(step.step) >= leapSize;
const goesOn = (step: Step, { direction }: Memory): boolean => direction * step.step > 0;
const cameByLeap = (memory: Memory): boolean => memory.size !== null && memory.size >= leapSize;
const inChord = (step: Step): boolean => step.from === 'chord' && step.to === 'chord';

/** From the fifth of the target's root: up a fourth or down a fifth. */
const isDominant = (step: Step): boolean =>
  step.toTarget && step.toRoot && (step.step === fourth || step.step === -fifth);

/** The first side of an enclosure, reached from a chord tone by no more than a fourth. */
const opensEnclosure = (step: Step): boolean =>
  step.toFirstSide && step.from === 'chord' && size(step) <= fourth;

/** A leap within the chord's tones, or to a note that then leads by step into the target. */
const leadsByLeap = (step: Step): boolean =>
  step.toLastBeforeTarget && step.from === 'chord' && isLeap(step) && size(step) <= fifth;

/** Closes an enclosure: back by a step to the target between its sides. */
const closes = (step: Step, memory: Memory): boolean =>
  memory.encloses && step.toTarget && isStep(step) && turnsAt(memory, step.step);

/** Whether a step breaks a rule, as far as the step alone decides: else by the memory it is made in. */
export type Breaks = boolean | ((memory: Memory) => boolean);

type Predicate = (step: Step) => Breaks;

/** The line turns a second time since its last target. */
const turnsAgain =
  (step: Step): Breaks =>
  (memory) =>
    memory.turns === 1 && turnsAt(memory, step.step) && !closes(step, memory);

/** True where a rule is stretched or broken. */
const predicates = {
  'outside by leap': (step) =>
    step.to === 'outside' &&
    !isStep(step) &&
    step.step !== 0 &&
    !opensEnclosure(step) &&
    !leadsByLeap(step) &&
    !step.encloses,
  'first side by third': (step) =>
    step.to !== 'chord' && !isStep(step) && step.step !== 0 && opensEnclosure(step),
  'outside left': (step) =>
    step.from === 'outside' &&
    size(step) !== semitone &&
    step.step !== 0 &&
    !step.encloses &&
    ((memory) => !closes(step, memory)),
  'outside turned': (step) =>
    step.from === 'outside' &&
    size(step) === semitone &&
    ((memory) => turnsAt(memory, step.step) && !closes(step, memory)),
  'scale by third': (step) => step.to === 'scale' && isThird(step) && !opensEnclosure(step) && !step.encloses,
  'scale by leap': (step) =>
    step.to === 'scale' && isLeap(step) && !opensEnclosure(step) && !leadsByLeap(step),
  'last note by leap': (step) => step.to !== 'chord' && leadsByLeap(step),
  'scale left by third': (step) => step.from === 'scale' && isThird(step) && !step.encloses,
  'scale left by leap': (step) => step.from === 'scale' && isLeap(step) && !isDominant(step),
  tritone: (step) => size(step) === tritone,
  sixth: (step) => size(step) === 8 || size(step) === 9,
  seventh: (step) => size(step) === 10 || size(step) === 11 || size(step) > octave,
  'leap goes on': (step) => size(step) > tone && ((memory) => cameByLeap(memory) && goesOn(step, memory)),
  'leap on leap': (step) =>
    size(step) > tone &&
    ((memory) =>
      cameByLeap(memory) &&
      goesOn(step, memory) &&
      (memory.size! > leapSize || size(step) > fourth || !inChord(step))),
  'second turn': (step) => !step.fromTarget && !inChord(step) && turnsAgain(step),
  'second turn in chord': (step) => !step.fromTarget && inChord(step) && turnsAgain(step),
  'third turn': (step) =>
    !step.fromTarget &&
    ((memory) => memory.turns >= mostTurns && turnsAt(memory, step.step) && !closes(step, memory)),
  'second leap': (step) => isLeap(step) && !step.toTarget && ((memory) => memory.leaps > 0),
  'enclosure kept': (step) => (memory) => memory.encloses && !closes(step, memory),
  'third into target': (step) => step.toTarget && isThird(step),
  'leap into target': (step) =>
    step.toTarget && size(step) >= fourth && size(step) <= fifth && !isDominant(step),
  'wide into target': (step) => step.toTarget && size(step) > fifth && size(step) < octave,
  'octave into target': (step) => step.toTarget && size(step) === octave,
  'target anticipated': (step) => step.toTarget && step.step === 0,
  'stranger into target': (step) =>
    step.toTarget &&
    size(step) === tone &&
    step.from === 'outside' &&
    !step.fromFitsTarget &&
    ((memory) => !closes(step, memory)),
  'denied note left': (step) =>
    step.fromDenies && (!isStep(step) || (!step.fromTarget && ((memory) => !goesOn(step, memory)))),
  'third time': (step) => step.step === 0 && ((memory) => memory.size === 0),
  'chord left unspoken': (step) => step.leavesUnspoken,
  'wide in pattern': (step) => step.manner === 'patterns' && size(step) > fifth,
  'scale repeated': (step) => step.from === 'scale' && step.step === 0,
  'outside repeated': (step) => step.from === 'outside' && step.step === 0,
} satisfies Record<string, Predicate>;

export type RuleName = keyof typeof predicates;

export interface Rule {
  readonly name: RuleName;
  /** What the rule says. */
  readonly sentence: string;
  /** What stretching it costs, in natural units; of a rule that is never broken, what it costs where nothing else is left. */
  readonly strength: number;
  readonly isNever: boolean;
  readonly breaks: (step: Step) => Breaks;
  /** The note of a step that the rule is about: the one entered, or the one left. */
  readonly of: 'entry' | 'exit';
  /** When it is worth telling that it held. */
  readonly concerns: ConcernName;
}

const isRuleName = (name: string): name is RuleName => name in predicates;

/** All rules, in the order of the table. @throws Error for a row without a predicate */
export const rules: readonly Rule[] = table.rows.map(({ rule, sentence, strength, of, concerns }) => {
  if (!isConcernName(concerns)) throw new Error(`no concern "${concerns}" for the rule "${rule}"`);
  if (!isRuleName(rule)) throw new Error(`no predicate for the rule "${rule}"`);
  const isNever = typeof strength !== 'number';
  return {
    name: rule,
    sentence,
    strength: isNever ? table.whereForced : strength,
    isNever,
    breaks: predicates[rule],
    of: of === 'exit' ? 'exit' : 'entry',
    concerns,
  };
});

/** True where a step made in a memory breaks or stretches the rule. */
export function isBroken({ breaks }: Pick<Rule, 'breaks'>, step: Step, memory: Memory): boolean {
  const alone = breaks(step);
  return typeof alone === 'boolean' ? alone : alone(memory);
}

const named = (...names: readonly RuleName[]): readonly Rule[] =>
  rules.filter(({ name }) => names.includes(name));
const ofOrnaments = named('seventh');
const ofPatterns = named('seventh', 'wide in pattern');
const ofPedals: readonly Rule[] = [];

/** The rules that a step is judged by: all of them while the line walks, few around ornaments and in patterns, none over a pedal. */
export function rulesFor({ manner }: Step): readonly Rule[] {
  if (manner === 'walks' || manner === 'holds') return rules;
  if (manner === 'adorns') return ofOrnaments;
  return manner === 'patterns' ? ofPatterns : ofPedals;
}
