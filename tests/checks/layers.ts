// A lattice written out as a plain layered graph: nodes, arcs, costs, and nothing of the elimination that src uses.
//
// A state (g, h) of slot t is the state of the automaton and the placement held, which is all that a cost looks back at. Every
// path from source to target crosses each layer once and costs what the line it stands for costs.
import {
  infinite,
  moveIndex,
  pitchOfPlacement,
  type Lattice,
  type MoveTable,
  type StepRule,
} from '../../src/pipeline/4-solver';

export type VisitArc = (to: number, cost: number) => void;

export interface Layers {
  readonly nodeCount: number;
  readonly source: number;
  readonly target: number;
  /** Arcs that are not blocked. */
  forEachArc(from: number, visit: VisitArc): void;
  /** What the way on from a node costs at least, by two bounds that are quick to find; infinite where there is no way. */
  aheadOf(node: number): number;
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

const isOpen = (cost: number): boolean => cost < infinite;

/** The terms of a path's cost by slot, read from the definition of a lattice. */
function termsOf({ slots, placementCount }: Lattice) {
  const pitchOf = slots.map(pitchOfPlacement);
  const moveCost = (moves: MoveTable, from: number, to: number): number =>
    moves.costs[moveIndex(moves, placementCount, from, to)]!;
  return {
    pitchOf,
    unary: (slot: number, h: number): number =>
      slots[slot]!.pitchCosts[pitchOf[slot]![h]!]! + slots[slot]!.placementCosts[h]!,
    move: (slot: number, h: number, to: number): number =>
      moveCost(slots[slot]!.moves, slots[slot]!.placements[h]!, slots[slot + 1]!.placements[to]!),
    step: (slot: number, b: number, n: number): number =>
      slots[slot]!.stepCosts[b * slots[slot + 1]!.pitches.length + n]!,
    rule: (slot: number, b: number, n: number): StepRule =>
      slots[slot]!.rules[slots[slot]!.ruleOf[b * slots[slot + 1]!.pitches.length + n]!]!,
  };
}

/** What each placement, and each placement with a pitch to come, costs on to the end where the memory may be any at every step. */
function relaxedMemory(lattice: Lattice) {
  const { slots } = lattice;
  const { pitchOf, unary, move, step, rule } = termsOf(lattice);
  const leastOf = new Map<StepRule, number>();
  const least = (one: StepRule): number => {
    const found = leastOf.get(one) ?? one.costs.reduce((a, b) => Math.min(a, b), infinite);
    leastOf.set(one, found);
    return found;
  };
  const held: Float64Array[] = [];
  const doors: Float64Array[] = [];
  held[slots.length - 1] = new Float64Array(slots.at(-1)!.placements.length);
  for (let t = slots.length - 2; t >= 0; t--) {
    const { pitches, groupStart } = slots[t + 1]!;
    const columns = pitches.length;
    const door = new Float64Array(slots[t]!.placements.length * columns).fill(Infinity);
    held[t] = Float64Array.from(slots[t]!.placements, (_, h) => {
      const b = pitchOf[t]![h]!;
      let best = Infinity;
      for (let n = 0; n < columns; n++) {
        for (let to = groupStart[n]!; to < groupStart[n + 1]!; to++) {
          const moving = move(t, h, to);
          if (!isOpen(moving)) continue;
          const ahead = moving + unary(t + 1, to) + held[t + 1]![to]!;
          if (ahead < door[h * columns + n]!) door[h * columns + n] = ahead;
        }
        const melody = [step(t, b, n), least(rule(t, b, n))] as const;
        if (melody.every(isOpen)) best = Math.min(best, melody[0] + melody[1] + door[h * columns + n]!);
      }
      return best;
    });
    doors[t] = door;
  }
  const first = Math.min(...held[0]!.map((ahead, h) => ahead + unary(0, h)));
  return {
    first,
    held: (slot: number, h: number): number => held[slot]![h]!,
    door: (slot: number, h: number, n: number): number =>
      doors[slot]![h * slots[slot + 1]!.pitches.length + n]!,
  };
}

/** What each pitch in each memory state costs on to the end where the hand may be anywhere on the pitch at every step. */
function relaxedHand(lattice: Lattice) {
  const { slots, memoryCount, startMemory } = lattice;
  const { unary, move, step, rule } = termsOf(lattice);
  const sizes = slots.map(({ pitches }) => pitches.length);
  const held: Float64Array[] = [];
  const moves: Float64Array[] = [];
  held[slots.length - 1] = new Float64Array(memoryCount * sizes.at(-1)!);
  for (let t = slots.length - 2; t >= 0; t--) {
    const [own, next] = [slots[t]!, slots[t + 1]!];
    const columns = sizes[t + 1]!;
    const least = new Float64Array(sizes[t]! * columns).fill(Infinity);
    const ahead = new Float64Array(memoryCount * sizes[t]!).fill(Infinity);
    for (let cell = 0; cell < least.length; cell++) {
      const [b, n] = [Math.floor(cell / columns), cell % columns];
      const { next: after, costs } = rule(t, b, n);
      const stepping = step(t, b, n);
      if (!isOpen(stepping)) continue;
      for (let h = own.groupStart[b]!; h < own.groupStart[b + 1]!; h++) {
        for (let to = next.groupStart[n]!; to < next.groupStart[n + 1]!; to++) {
          const moving = move(t, h, to);
          if (isOpen(moving)) least[cell] = Math.min(least[cell]!, moving + unary(t + 1, to));
        }
      }
      for (let g = 0; g < memoryCount; g++) {
        if (!isOpen(costs[g]!)) continue;
        const at = g * sizes[t]! + b;
        const way = stepping + costs[g]! + least[cell]! + held[t + 1]![after[g]! * columns + n]!;
        if (way < ahead[at]!) ahead[at] = way;
      }
    }
    held[t] = ahead;
    moves[t] = least;
  }
  const { pitchOf } = termsOf(lattice);
  const heldAt = (slot: number, g: number, b: number): number => held[slot]![g * sizes[slot]! + b]!;
  const first = slots[0]!.placements.reduce(
    (least, _, h) => Math.min(least, unary(0, h) + heldAt(0, startMemory, pitchOf[0]![h]!)),
    Infinity,
  );
  return {
    first,
    held: heldAt,
    door: (slot: number, b: number, n: number, q: number): number =>
      moves[slot]![b * sizes[slot + 1]! + n]! + heldAt(slot + 1, q, n),
  };
}

const stateSizes = ({ slots, memoryCount }: Lattice) =>
  slots.map((slot) => ({ rows: memoryCount, columns: slot.placements.length }));

/** States alone: an arc for each state and each placement that may follow. */
export function stateLayers(lattice: Lattice): Layers {
  const { slots, startMemory } = lattice;
  const { pitchOf, unary, move, step, rule } = termsOf(lattice);
  const states = numbering(stateSizes(lattice), 2);
  const anyMemory = relaxedMemory(lattice);
  const anyHand = relaxedHand(lattice);
  const forEachArc = (from: number, visit: VisitArc): void => {
    if (from === 1) return;
    if (from === 0) {
      slots[0]!.placements.forEach((_, h) => visit(states.id(0, startMemory, h), unary(0, h)));
      return;
    }
    const { slot, row: g, column: h } = states.locate(from);
    const next = slots[slot + 1];
    if (!next) {
      visit(1, 0);
      return;
    }
    const b = pitchOf[slot]![h]!;
    next.placements.forEach((_, to) => {
      const n = pitchOf[slot + 1]![to]!;
      const moving = move(slot, h, to);
      const stepping = step(slot, b, n);
      const { next: after, costs } = rule(slot, b, n);
      if (!isOpen(moving) || !isOpen(stepping) || !isOpen(costs[g]!)) return;
      visit(states.id(slot + 1, after[g]!, to), moving + stepping + costs[g]! + unary(slot + 1, to));
    });
  };
  const choiceOf = (node: number) => {
    if (node < 2) return null;
    const { slot, column } = states.locate(node);
    return { slot, placement: column };
  };
  const aheadOf = (node: number): number => {
    if (node < 2) return node === 0 ? Math.max(anyMemory.first, anyHand.first) : 0;
    const { slot, row, column } = states.locate(node);
    return Math.max(anyMemory.held(slot, column), anyHand.held(slot, row, pitchOf[slot]![column]!));
  };
  return { nodeCount: states.end, source: 0, target: 1, forEachArc, aheadOf, choiceOf };
}

/** The memory states that each rule leads to, and the place of each among them. */
class Reached {
  readonly #known = new Map<StepRule, { readonly states: readonly number[]; readonly placeOf: Int32Array }>();

  of(rule: StepRule) {
    const found = this.#known.get(rule);
    if (found) return found;
    const states = [...new Set(rule.next.filter((_, g) => isOpen(rule.costs[g]!)))];
    const made = { states, placeOf: Int32Array.from(rule.next, (state) => states.indexOf(state)) };
    this.#known.set(rule, made);
    return made;
  }
}

/**
 * States, and between two layers of them a node for each placement held, pitch to come and memory state that the step leads
 * to. The melody is paid on the way into such a node, the move on the way out of it: the same paths at the same costs over
 * far fewer arcs.
 */
export function doorLayers(lattice: Lattice): Layers {
  const { slots, startMemory } = lattice;
  const { pitchOf, unary, move, step, rule } = termsOf(lattice);
  const states = numbering(stateSizes(lattice), 2);
  const anyMemory = relaxedMemory(lattice);
  const anyHand = relaxedHand(lattice);
  const reached = new Reached();
  const most = slots.reduce(
    (count, slot) => slot.rules.reduce((more, one) => Math.max(more, reached.of(one).states.length), count),
    0,
  );
  const doors = numbering(
    slots
      .slice(0, -1)
      .map((slot, t) => ({ rows: slot.placements.length * most, columns: slots[t + 1]!.pitches.length })),
    states.end,
  );
  const fromState = ({ slot, row: g, column: h }: Numbered, visit: VisitArc): void => {
    const next = slots[slot + 1];
    if (!next) {
      visit(1, 0);
      return;
    }
    const b = pitchOf[slot]![h]!;
    for (let n = 0; n < next.pitches.length; n++) {
      const one = rule(slot, b, n);
      const stepping = step(slot, b, n);
      if (!isOpen(stepping) || !isOpen(one.costs[g]!)) continue;
      visit(doors.id(slot, h * most + reached.of(one).placeOf[g]!, n), stepping + one.costs[g]!);
    }
  };
  const fromDoor = ({ slot, row, column: n }: Numbered, visit: VisitArc): void => {
    const { groupStart } = slots[slot + 1]!;
    const h = Math.floor(row / most);
    const memory = reached.of(rule(slot, pitchOf[slot]![h]!, n)).states[row % most]!;
    for (let to = groupStart[n]!; to < groupStart[n + 1]!; to++) {
      const moving = move(slot, h, to);
      if (isOpen(moving)) visit(states.id(slot + 1, memory, to), moving + unary(slot + 1, to));
    }
  };
  const forEachArc = (from: number, visit: VisitArc): void => {
    if (from === 1) return;
    if (from === 0) {
      slots[0]!.placements.forEach((_, h) => visit(states.id(0, startMemory, h), unary(0, h)));
    } else if (from < states.end) fromState(states.locate(from), visit);
    else fromDoor(doors.locate(from), visit);
  };
  const choiceOf = (node: number) => {
    if (node < 2 || node >= states.end) return null;
    const { slot, column } = states.locate(node);
    return { slot, placement: column };
  };
  const aheadOf = (node: number): number => {
    if (node < 2) return node === 0 ? Math.max(anyMemory.first, anyHand.first) : 0;
    if (node < states.end) {
      const { slot, row, column } = states.locate(node);
      return Math.max(anyMemory.held(slot, column), anyHand.held(slot, row, pitchOf[slot]![column]!));
    }
    const { slot, row, column: n } = doors.locate(node);
    const h = Math.floor(row / most);
    const b = pitchOf[slot]![h]!;
    const memory = reached.of(rule(slot, b, n)).states[row % most]!;
    return Math.max(anyMemory.door(slot, h, n), anyHand.door(slot, b, n, memory));
  };
  return { nodeCount: doors.end, source: 0, target: 1, forEachArc, aheadOf, choiceOf };
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
