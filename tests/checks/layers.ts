// A lattice written out as a plain layered graph: nodes, arcs, costs, and nothing of the elimination that src uses.
//
// A state (m, h) of slot t remembers the pitch before and the placement held, which is all that a cost looks back at. Every
// path from source to target crosses each layer once and costs what the line it stands for costs (less `shift`).
import { infinite, pitchOfPlacement, type Lattice } from '../../src/pipeline/4-solver';

export type VisitArc = (to: number, cost: number) => void;

export interface Layers {
  readonly nodeCount: number;
  readonly source: number;
  readonly target: number;
  /** Arcs that are not blocked. */
  forEachArc(from: number, visit: VisitArc): void;
  /** Slot and placement that a node stands for; null for nodes that choose nothing. */
  choiceOf(node: number): { readonly slot: number; readonly placement: number } | null;
}

interface Numbered {
  readonly slot: number;
  readonly row: number;
  readonly column: number;
}

/** Numbers rectangles of nodes one after the other; `locate` finds slot, row and column again. */
function numbering(sizes: readonly { readonly rows: number; readonly columns: number }[], first: number) {
  const starts: number[] = [];
  let end = first;
  for (const { rows, columns } of sizes) {
    starts.push(end);
    end += rows * columns;
  }
  const slotOf = new Int32Array(end - first);
  starts.forEach((start, slot) => slotOf.fill(slot, start - first, (starts[slot + 1] ?? end) - first));
  return {
    end,
    id: (slot: number, row: number, column: number): number =>
      starts[slot]! + row * sizes[slot]!.columns + column,
    locate: (id: number): Numbered => {
      const slot = slotOf[id - first]!;
      const offset = id - starts[slot]!;
      const { columns } = sizes[slot]!;
      return { slot, row: Math.floor(offset / columns), column: offset % columns };
    },
  };
}

/** The terms of a path's cost by slot, read from the definition of a lattice. */
function termsOf(lattice: Lattice) {
  const { slots, reach, turnCosts, placementCount } = lattice;
  const pitchOf = slots.map(pitchOfPlacement);
  const coordinate = (slot: number, pitch: number): number => slots[slot]!.pitches[pitch]!;
  return {
    pitchOf,
    unary: (slot: number, h: number): number =>
      slots[slot]!.pitchCosts[pitchOf[slot]![h]!]! + slots[slot]!.placementCosts[h]!,
    move: (slot: number, h: number, to: number): number =>
      slots[slot]!.moves.costs[
        slots[slot]!.placements[h]! * placementCount + slots[slot + 1]!.placements[to]!
      ]!,
    /** Step and, from the second slot on, turn: m before, b here, n next. */
    melody: (slot: number, m: number, b: number, n: number): number => {
      const step = slots[slot]!.stepCosts[b * slots[slot + 1]!.pitches.length + n]!;
      if (slot === 0) return step;
      const first = coordinate(slot, b) - coordinate(slot - 1, m);
      const second = coordinate(slot + 1, n) - coordinate(slot, b);
      return step + turnCosts[(first + reach) * (2 * reach + 1) + second + reach]!;
    },
  };
}

const stateSizes = ({ slots }: Lattice) =>
  slots.map((slot, t) => ({ rows: slots[t - 1]?.pitches.length ?? 1, columns: slot.placements.length }));

const isOpen = (cost: number): boolean => cost < infinite;

/** States alone: an arc for each state and each placement that may follow. */
export function stateLayers(lattice: Lattice): Layers {
  const { slots } = lattice;
  const { pitchOf, unary, move, melody } = termsOf(lattice);
  const states = numbering(stateSizes(lattice), 2);
  const forEachArc = (from: number, visit: VisitArc): void => {
    if (from === 1) return;
    if (from === 0) {
      slots[0]!.placements.forEach((_, h) => visit(states.id(0, 0, h), unary(0, h)));
      return;
    }
    const { slot, row: m, column: h } = states.locate(from);
    const next = slots[slot + 1];
    if (!next) {
      visit(1, 0);
      return;
    }
    const b = pitchOf[slot]![h]!;
    next.placements.forEach((_, to) => {
      const moving = move(slot, h, to);
      if (!isOpen(moving)) return;
      visit(
        states.id(slot + 1, b, to),
        moving + melody(slot, m, b, pitchOf[slot + 1]![to]!) + unary(slot + 1, to),
      );
    });
  };
  const choiceOf = (node: number) => {
    if (node < 2) return null;
    const { slot, column } = states.locate(node);
    return { slot, placement: column };
  };
  return { nodeCount: states.end, source: 0, target: 1, forEachArc, choiceOf };
}

/**
 * States, and between two layers of them a node for each placement held and pitch to come. The melody is paid on the way
 * into such a node, the move on the way out of it: the same paths at the same costs over far fewer arcs.
 */
export function doorLayers(lattice: Lattice): Layers {
  const { slots } = lattice;
  const { pitchOf, unary, move, melody } = termsOf(lattice);
  const states = numbering(stateSizes(lattice), 2);
  const doors = numbering(
    slots
      .slice(0, -1)
      .map((slot, t) => ({ rows: slot.placements.length, columns: slots[t + 1]!.pitches.length })),
    states.end,
  );
  const fromState = ({ slot, row: m, column: h }: Numbered, visit: VisitArc): void => {
    const next = slots[slot + 1];
    if (!next) {
      visit(1, 0);
      return;
    }
    const b = pitchOf[slot]![h]!;
    for (let n = 0; n < next.pitches.length; n++) visit(doors.id(slot, h, n), melody(slot, m, b, n));
  };
  const fromDoor = ({ slot, row: h, column: n }: Numbered, visit: VisitArc): void => {
    const { groupStart } = slots[slot + 1]!;
    const b = pitchOf[slot]![h]!;
    for (let to = groupStart[n]!; to < groupStart[n + 1]!; to++) {
      const moving = move(slot, h, to);
      if (isOpen(moving)) visit(states.id(slot + 1, b, to), moving + unary(slot + 1, to));
    }
  };
  const forEachArc = (from: number, visit: VisitArc): void => {
    if (from === 1) return;
    if (from === 0) slots[0]!.placements.forEach((_, h) => visit(states.id(0, 0, h), unary(0, h)));
    else if (from < states.end) fromState(states.locate(from), visit);
    else fromDoor(doors.locate(from), visit);
  };
  const choiceOf = (node: number) => {
    if (node < 2 || node >= states.end) return null;
    const { slot, column } = states.locate(node);
    return { slot, placement: column };
  };
  return { nodeCount: doors.end, source: 0, target: 1, forEachArc, choiceOf };
}

/** The path of a lattice that a walk over nodes stands for. */
export function pathOfNodes(layers: Layers, nodes: Iterable<number>, length: number): Int32Array {
  const path = new Int32Array(length).fill(-1);
  for (const node of nodes) {
    const choice = layers.choiceOf(node);
    if (choice) path[choice.slot] = choice.placement;
  }
  return path;
}
