// From the solver's path to the line: every note with its place, role, reason and itemised cost.
//
// Pre: a path through the lattice that buildLattice made of these candidates. The last candidate set may stand for the
// return to the top of the form: it shapes the end of the line, is paid for by the last note and is not played.
// Post: the items of all notes add up to the cost of the path.
import { milli, spellPitch, type Milli, type NoteName } from '../../music';
import type { Placement } from '../../instrument';
import type { Slot } from '../2-timeline';
import type { SlotCandidates } from '../3-candidates';
import { moveContextOf, type CostModel } from './cost-model';
import { inMilli, itemsOf, moveBetween } from './features';
import { advance, startOfLine, stepBetween, type Memory } from './grammar';
import { reasonFor, type Ahead } from './reasons';
import { makeReport } from './report';
import { neighbourOf, roleOf } from './roles';
import { nameNotes } from './spelling';
import type { CostItem, Line, LineNote, Move } from './types';

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

function makeNote(
  steps: readonly PathStep[],
  names: readonly NoteName[],
  index: number,
  items: readonly CostItem[],
  model: CostModel,
): LineNote {
  const { slot, placement } = steps[index]!;
  const before = neighbourOf(steps, index, -1);
  const after = neighbourOf(steps, index, 1);
  const move = moveInto(steps, index, model);
  const carries = placement.finger === '0' && move.kind === 'covered shift';
  const carry = carries ? { from: move.from, to: move.to } : null;
  const role = roleOf({
    slot,
    placement,
    before: before === null ? null : steps[before]!.placement.midi,
    after: after === null ? null : steps[after]!.placement.midi,
  });
  const ahead: Ahead | null =
    after === null
      ? null
      : { name: names[after]!, midi: steps[after]!.placement.midi, harmony: slot.nextHarmony };
  return {
    index,
    slot,
    bar: slot.bar + 1,
    beat: slot.beat,
    tick: slot.tick,
    ticks: slot.ticks,
    midi: placement.midi,
    pitch: spellPitch(placement.midi, names[index]!),
    harmony: slot.harmony,
    role,
    reason: reasonFor(role, names[index]!, placement.midi, slot.harmony, ahead, carry),
    placement,
    move,
    carry,
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
  const names = nameNotes(
    steps.map(({ slot, placement }) => ({ harmony: slot.harmony, midi: placement.midi })),
  );
  const memories = memoriesAlong(steps);
  const notes = steps.slice(0, playedCount).map((_, index) => {
    const items = itemsAt(steps, memories, index, model);
    if (index === playedCount - 1 && steps.length > playedCount) {
      items.push({ feature: 'return to the top', amount: sum(itemsAt(steps, memories, playedCount, model)) });
    }
    return makeNote(steps, names, index, items, model);
  });
  const cost = milli(notes.reduce((total, note) => total + note.cost, 0));
  return { notes, cost, report: makeReport(notes, model.player) };
}

/** The natural unit of cost in the line's integers. */
export const naturalUnit = inMilli(1);
