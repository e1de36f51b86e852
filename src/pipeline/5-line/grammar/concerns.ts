// When a rule has something to say of a step, kept or stretched: what `concerns` in shared/grammar/rules.json names.
import { leapSize, sizeOf, turnsAt, type Memory } from './memory';
import type { Step } from './step';

type Concern = (step: Step, memory: Memory) => boolean;

const size = ({ step }: Step): number => Math.abs(step);
const isLeap = (step: Step): boolean => sizeOf(step.step) >= leapSize;
const isThird = (step: Step): boolean => size(step) === 3 || size(step) === 4;
const moves = (step: Step): boolean => step.step !== 0;

const concerns = {
  outside: (step) => step.from === 'outside' || step.to === 'outside',
  'first side': (step) => step.toFirstSide && step.to !== 'chord' && moves(step),
  'outside by semitone': (step) => step.from === 'outside' && size(step) === 1,
  scale: (step) => step.from === 'scale' || step.to === 'scale',
  'last by leap': (step) => step.toLastBeforeTarget && step.to !== 'chord' && isLeap(step),
  tritone: (step) => size(step) === 6,
  sixth: (step) => size(step) === 8 || size(step) === 9,
  wide: (step) => size(step) >= 10,
  'after a leap': (step, memory) => memory.size !== null && memory.size >= leapSize && moves(step),
  turn: (step, memory) => turnsAt(memory, step.step) && !step.fromTarget,
  leap: (step) => isLeap(step),
  enclosure: (_step, memory) => memory.encloses,
  'target by third': (step) => step.toTarget && isThird(step),
  'target by leap': (step) => step.toTarget && isLeap(step),
  'target next': (step) => step.toTarget,
  'outside into target': (step) => step.toTarget && step.from === 'outside',
  denied: (step) => step.fromDenies,
  repeat: (_step, memory) => memory.size === 0,
  pattern: (step) => step.manner === 'patterns' && isLeap(step),
  'nothing else': () => false,
} satisfies Record<string, Concern>;

export type ConcernName = keyof typeof concerns;

export const isConcernName = (name: string): name is ConcernName => name in concerns;

/** True where a rule with this concern is worth telling. */
export const isConcerned = (name: ConcernName, step: Step, memory: Memory): boolean =>
  concerns[name](step, memory);
