// From the solver's path to the line: every note with its place, labels, reason and itemised cost.
//
// Pre: a path through the lattice that buildLattice made of these candidates. The last candidate set may stand for the
// return to the top of the form: it shapes the end of the line, is paid for by the last note and is not played.
// Post: the items of all notes add up to the cost of the path.
import { milli, spellPitch, type Milli } from '../../music';
import type { Placement } from '../../instrument';
import type { Slot } from '../2-timeline';
import type { SlotCandidates } from '../3-candidates';
import { moveContextOf, type CostModel } from './cost-model';
import { devicesOf, labelsOf, roleOf, type NoteLabels, type PlayedNote } from './devices';
import { inMilli, itemsOf, moveBetween } from './features';
import { reasonFor, type NamedNote } from './reasons';
import { makeReport } from './report';
import { nameNotes } from './spelling';
import type { CostItem, Line, LineNote, Move } from './types';

/** One step of the path. */
interface Step {
  readonly slot: Slot;
  readonly placement: Placement;
}

/** Everything the note at `index` pays for: itself, its place, and how the line and the hand came to it. */
function itemsAt(steps: readonly Step[], index: number, model: CostModel): CostItem[] {
  const { slot, placement } = steps[index]!;
  const items = [
    ...itemsOf(model.pitch, slot, placement.midi),
    ...itemsOf(model.hold, model.player, placement),
    ...itemsOf(model.place, slot, placement),
  ];
  const after = steps[index + 1];
  if (after) items.push(...itemsOf(model.leave, slot, placement.midi, after.placement.midi));
  const before = steps[index - 1];
  if (!before) return items;
  items.push(
    ...itemsOf(model.step, before.slot, before.placement.midi, placement.midi),
    ...itemsOf(model.move, moveContextOf(model, before.slot, slot), before.placement, placement),
  );
  const earlier = steps[index - 2];
  if (!earlier) return items;
  const first = before.placement.midi - earlier.placement.midi;
  return [...items, ...itemsOf(model.turn, first, placement.midi - before.placement.midi)];
}

const sum = (items: readonly CostItem[]): Milli =>
  milli(items.reduce((total, item) => total + item.amount, 0));

function moveInto(steps: readonly Step[], index: number, model: CostModel): Move {
  const { slot, placement } = steps[index]!;
  const before = steps[index - 1];
  const still = moveBetween(moveContextOf(model, slot, slot), placement, placement);
  if (!before) return { ...still, kind: 'start' };
  return moveBetween(moveContextOf(model, before.slot, slot), before.placement, placement);
}

/** A step with how the hand came to it and what it does for the hand. */
interface PlayedStep extends Step, PlayedNote {
  readonly placement: Placement;
  readonly move: Move;
  readonly carry: LineNote['carry'];
}

function playedSteps(steps: readonly Step[], model: CostModel): readonly PlayedStep[] {
  return steps.map((step, index) => {
    const move = moveInto(steps, index, model);
    const carries = step.placement.finger === '0' && move.kind === 'covered shift';
    return {
      ...step,
      midi: step.placement.midi,
      move,
      carry: carries ? { from: move.from, to: move.to } : null,
    };
  });
}

function makeNote(
  { slot, placement, midi, move, carry }: PlayedStep,
  index: number,
  labels: NoteLabels,
  noteAt: (index: number) => NamedNote | undefined,
  items: readonly CostItem[],
): LineNote {
  return {
    index,
    slot,
    bar: slot.bar + 1,
    beat: slot.beat,
    tick: slot.tick,
    ticks: slot.ticks,
    midi,
    pitch: spellPitch(midi, noteAt(index)!.name),
    harmony: slot.harmony,
    ...labels,
    role: roleOf(labels),
    reason: reasonFor(index, labels, noteAt, carry),
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
  const steps = candidates.map((one, index): Step => ({
    slot: one.slot,
    placement: one.placements[path[index]!]!,
  }));
  const played = playedSteps(steps, model);
  const named: readonly NamedNote[] = nameNotes(
    steps.map(({ slot, placement }) => ({ harmony: slot.harmony, midi: placement.midi })),
  ).map((name, index) => ({ name, midi: played[index]!.midi, harmony: played[index]!.slot.harmony }));
  const labels = labelsOf(played);
  const noteAt = (index: number): NamedNote | undefined => named[index];
  const notes = played.slice(0, playedCount).map((step, index) => {
    const items = itemsAt(steps, index, model);
    if (index === playedCount - 1 && steps.length > playedCount) {
      items.push({ feature: 'return to the top', amount: sum(itemsAt(steps, playedCount, model)) });
    }
    return makeNote(step, index, labels[index]!, noteAt, items);
  });
  const devices = devicesOf(played).filter((span) => span.notes.every((index) => index < playedCount));
  const cost = milli(notes.reduce((total, note) => total + note.cost, 0));
  return { notes, devices, cost, report: makeReport(notes, model.player) };
}

/** The natural unit of cost in the line's integers. */
export const naturalUnit = inMilli(1);
