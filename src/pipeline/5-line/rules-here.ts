// The rules of the line at every note: those that held there, and those that are stretched, in the words of the data.
import type { Slot } from '../2-timeline';
import type { SoundingMidi } from '../../music';
import {
  advance,
  isBroken,
  isConcerned,
  rulesFor,
  startOfLine,
  stepBetween,
  type Memory,
  type Rule,
  type RuleName,
  type Step,
} from './grammar';

/** A rule that has something to say of a note. */
export interface RuleHere {
  readonly rule: RuleName;
  readonly sentence: string;
  /** False where the line stretches it, and pays for that. */
  readonly isKept: boolean;
}

/** A note as the rules look at it. */
export interface RuledNote {
  readonly slot: Slot;
  readonly midi: SoundingMidi;
}

interface Judged {
  readonly step: Step;
  /** Before the step. */
  readonly memory: Memory;
}

function judged(notes: readonly RuledNote[]): readonly Judged[] {
  let memory = startOfLine;
  return notes.slice(1).map((note, index) => {
    const before = notes[index]!;
    const step = stepBetween(before.slot, note.slot, before.midi, note.midi);
    const here = { step, memory };
    if (step.manner !== 'adorns') memory = advance(memory, step);
    return here;
  });
}

const saysOf = (rule: Rule, { step, memory }: Judged): RuleHere[] => {
  const isKept = !isBroken(rule, step, memory);
  if (isKept && !isConcerned(rule.concerns, step, memory)) return [];
  return [{ rule: rule.name, sentence: rule.sentence, isKept }];
};

const of = (which: Rule['of'], step: Judged | undefined): readonly RuleHere[] =>
  step ? rulesFor(step.step).flatMap((rule) => (rule.of === which ? saysOf(rule, step) : [])) : [];

/**
 * For every note of a line the rules about how it is entered and how it is left; stretched ones first. Nothing is said where
 * there is no chord to judge by.
 */
export function rulesAlong(notes: readonly RuledNote[]): readonly (readonly RuleHere[])[] {
  const steps = judged(notes);
  return notes.map(({ slot }, index) => {
    if (slot.harmony.chord === null) return [];
    const all = [...of('entry', steps[index - 1]), ...of('exit', steps[index])];
    return [...all.filter(({ isKept }) => !isKept), ...all.filter(({ isKept }) => isKept)];
  });
}
