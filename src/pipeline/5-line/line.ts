// From the solver's path to the line: every note with its place, labels, reason and itemised cost.
//
// Pre: a path through the lattice that buildLattice made of these candidates. The last candidate set may stand for the
// return to the top of the form: it shapes the end of the line, is paid for by the last note and is not played.
// Post: the items of all notes add up to the cost of the path.
import { milli, spellPitch, numberOfBar, type Milli } from '../../music';
import { isOpenString, type Placement } from '../../instrument';
import type { Slot } from '../2-timeline';
import type { SlotCandidates } from '../3-candidates';
import { moveContextOf, type CostModel } from './cost-model';
import { carriesOf } from './carry';
import { devicesOf, labelsOf, roleOf, type NoteLabels, type PlayedNote } from './devices';
import { inMilli, itemsOf, moveBetween } from './features';
import { advance, startOfLine, stepBetween, type Memory } from './grammar';
import { reasonFor, type NamedNote } from './reasons';
import { makeReport } from './report';
import { rulesAlong, type RuleHere } from './rules-here';
import { nameNotes } from './spelling';
import type { Carry, CostItem, Line, LineNote, Move } from './types';

/** One step of the path. */
interface PathStep {
  readonly slot: Slot;
  readonly placement: Placement;
}

/** Everything the note at `index` pays for: itself, its place, and how the line and the hand came to it. */
function itemsAt(
  steps: readonly PathStep[],
  memories: readonly Memory[],
  index: number,
  model: CostModel,
): CostItem[] {
  const { slot, placement } = steps[index]!;
  const items = [
    ...itemsOf(model.pitch, slot, placement.midi),
    ...itemsOf(model.hold, model.player, placement),
    ...itemsOf(model.place, slot, placement),
  ];
  const before = steps[index - 1];
  if (!before) return items;
  items.push(
    ...itemsOf(model.step, before.slot, before.placement.midi, placement.midi),
    ...itemsOf(model.move, moveContextOf(model, before.slot, slot), before.placement, placement),
  );
  const step = stepBetween(before.slot, slot, before.placement.midi, placement.midi);
  return [...items, ...itemsOf(model.grammar, step, memories[index - 1]!)];
}

/** The memory at every note. */
function memoriesAlong(steps: readonly PathStep[]): readonly Memory[] {
  let memory = startOfLine;
  return steps.map(({ slot, placement }, index) => {
    const before = steps[index - 1];
    if (!before) return memory;
    const step = stepBetween(before.slot, slot, before.placement.midi, placement.midi);
    memory = step.manner === 'adorns' ? memory : advance(memory, step);
    return memory;
  });
}

const sum = (items: readonly CostItem[]): Milli =>
  milli(items.reduce((total, item) => total + item.amount, 0));

function moveInto(steps: readonly PathStep[], index: number, model: CostModel): Move {
  const { slot, placement } = steps[index]!;
  const before = steps[index - 1];
  const still = moveBetween(moveContextOf(model, slot, slot), placement, placement);
  if (!before) return { ...still, kind: 'start' };
  return moveBetween(moveContextOf(model, before.slot, slot), before.placement, placement);
}

/** A step with how the hand came to it and what it does for the hand. */
interface PlayedStep extends PathStep, PlayedNote {
  readonly placement: Placement;
  readonly move: Move;
  /** The move made while this string rings: what makes it a device. */
  readonly carry: Carry | null;
}

function playedSteps(steps: readonly PathStep[], model: CostModel): readonly PlayedStep[] {
  return steps.map((step, index) => {
    const move = moveInto(steps, index, model);
    const carries = isOpenString(step.placement) && move.kind === 'covered shift';
    return {
      ...step,
      midi: step.placement.midi,
      move,
      carry: carries ? { from: move.from, to: move.to } : null,
    };
  });
}

function makeNote(
  { slot, placement, midi, move }: PlayedStep,
  index: number,
  carries: readonly (Carry | null)[],
  labels: NoteLabels,
  noteAt: (index: number) => NamedNote | undefined,
  items: readonly CostItem[],
  rules: readonly RuleHere[],
): LineNote {
  return {
    index,
    slot,
    bar: numberOfBar(slot.bar),
    beat: slot.beat,
    tick: slot.tick,
    ticks: slot.ticks,
    midi,
    pitch: spellPitch(midi, noteAt(index)!.name),
    harmony: slot.harmony,
    ...labels,
    role: roleOf(labels),
    reason: reasonFor(index, labels, noteAt, carries),
    rules,
    placement,
    move,
    carry: carries[index]!,
    cost: sum(items),
    items,
  };
}

/**
 * @param path index into each candidate set's placements
 * @param playedCount how many of the candidate sets are played; one fewer than there are when the last is the return
 */
export function makeLine(
  candidates: readonly SlotCandidates[],
  path: ArrayLike<number>,
  playedCount: number,
  model: CostModel,
): Line {
  const steps = candidates.map((one, index): PathStep => ({
    slot: one.slot,
    placement: one.placements[path[index]!]!,
  }));
  const played = playedSteps(steps, model);
  const named: readonly NamedNote[] = nameNotes(
    steps.map(({ slot, placement }) => ({ harmony: slot.harmony, midi: placement.midi })),
  ).map((name, index) => ({ name, midi: played[index]!.midi, harmony: played[index]!.slot.harmony }));
  const memories = memoriesAlong(steps);
  const labels = labelsOf(played);
  const noteAt = (index: number): NamedNote | undefined => named[index];
  const goesRound = steps.length > playedCount;
  const carries = carriesOf(
    steps.slice(0, playedCount).map(({ placement }) => placement),
    goesRound,
  );
  // Notes that are given are not judged.
  const rules = model.grammar.length === 0 ? [] : rulesAlong(played.slice(0, playedCount));
  const notes = played.slice(0, playedCount).map((step, index) => {
    const items = itemsAt(steps, memories, index, model);
    if (index === playedCount - 1 && goesRound) {
      items.push({ feature: 'return to the top', amount: sum(itemsAt(steps, memories, playedCount, model)) });
    }
    return makeNote(step, index, carries, labels[index]!, noteAt, items, rules[index] ?? []);
  });
  const devices = devicesOf(played).filter((span) => span.notes.every((index) => index < playedCount));
  const cost = milli(notes.reduce((total, note) => total + note.cost, 0));
  return { notes, devices, cost, report: makeReport(notes, model.player) };
}

/** The natural unit of cost in the line's integers. */
export const naturalUnit = inMilli(1);
