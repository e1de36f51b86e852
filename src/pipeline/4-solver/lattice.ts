// The layered graph that is solved. Numbers only: what a pitch or a placement means is nobody's business here.
//
// Each slot t offers pitches (integer coordinates, rising) and placements, each placement belonging to one pitch of the
// slot. A path chooses one placement h_t a slot, with pitch m_t. Besides, a finite automaton reads the pitches: it is in
// memory state g_t at slot t, and the step from pitch m_t to pitch m_{t+1} advances it by that step's rule,
//
//   g_{t+1} = next(rule, g_t).
//
// So the path is one of the product of the layers with the automaton: a weighted automaton composed with the lattice
// (Mohri, Pereira & Riley 2002, "Weighted finite-state transducers in speech recognition"). Its cost, in integers, is
//
//   sum_t  A_t(m_t) + B_t(h_t)                      unary potentials, on pitch and on placement
//        + R_t(m_t, m_{t+1})                        pairwise potential on pitches
//        + S_t(g_t, m_t, m_{t+1})                   potential of the step's rule in the memory state: second and higher order
//        + V_t(h_t, h_{t+1})                        pairwise potential on placements: the move of the hand
//
// Memory sees pitches only and moves see placements only. That is what makes the two-step elimination of the messages
// possible: first the memory of one rule, then the placement.

/** A cost no path may pay. Three of them still fit a 32-bit integer. */
export const infinite = 500_000_000;

/** Sums from here on contain an `infinite`, whatever was taken off them; costs of real paths stay far below. */
export const barrier = infinite / 2;

/** A sum with every blocked value made the same. */
export const clamp = (sum: number): number => (sum >= barrier ? infinite : sum);

/** Costs of moves between any two placements of the whole table; `moveIndex` says where each stands. */
export interface MoveTable {
  /** Row from, column to; where placements carry a count, by `alike`, and one more: a move that is never made. */
  readonly costs: Int32Array;
  readonly counted?: Counted;
}

/**
 * Placements that carry a count of how many in a row were of one group. Of two that are alike in all else moves cost the same,
 * but where the count forbids them: to a count of 0 a move may always go; to one of k it goes from k - 1 in the same group, and
 * to 1 from any other.
 */
export interface Counted {
  /** By placement: the same number for those that differ in the count alone. */
  readonly alike: Int32Array;
  /** How many numbers `alike` has. */
  readonly kinds: number;
  /** By placement; 0 where nothing is counted. */
  readonly count: Int32Array;
  /** By placement. */
  readonly group: Int32Array;
}

/** What tells a placement from those that move otherwise. */
export const kindOf = ({ counted }: MoveTable, placement: number): number =>
  counted ? counted.alike[placement]! : placement;

/** Where a move stands in the costs of a table, and in whatever is made of them number by number. */
export function moveIndex({ counted }: MoveTable, placementCount: number, from: number, to: number): number {
  if (counted === undefined) return from * placementCount + to;
  const { alike, kinds, count, group } = counted;
  const reached = count[to]!;
  const isMade = reached === 0 || reached === (group[from] === group[to] ? count[from]! : 0) + 1;
  return isMade ? alike[from]! * kinds + alike[to]! : kinds * kinds;
}

/** What a step does to the memory, and what it costs there: by memory state. The same rule again is the same object. */
export interface StepRule {
  readonly next: Uint16Array;
  /** S; `infinite` where the step may not be made in a state. */
  readonly costs: Int32Array;
}

/** The one rule, with one memory, where notes are not judged. */
export const anyStep: StepRule = { next: new Uint16Array(1), costs: new Int32Array(1) };

export interface LatticeSlot {
  /** Coordinates of the pitches on offer, rising. */
  readonly pitches: Int32Array;
  /** A_t by pitch. */
  readonly pitchCosts: Int32Array;
  /** Placements, by identity in the move table, grouped by pitch in the order of `pitches`. */
  readonly placements: Int32Array;
  /** B_t by placement. */
  readonly placementCosts: Int32Array;
  /** Placements of pitch p are those from groupStart[p] to groupStart[p + 1]. Length: pitches + 1. */
  readonly groupStart: Int32Array;
  /** R_t by pitch and next pitch, row major; `infinite` for steps that are never made. Empty on the last slot. */
  readonly stepCosts: Int32Array;
  /** Rules of the steps that are made from this slot. */
  readonly rules: readonly StepRule[];
  /** Index into `rules` by pitch and next pitch, row major. Empty on the last slot. */
  readonly ruleOf: Uint16Array;
  /** V_t. On the last slot it is not used. */
  readonly moves: MoveTable;
  /** Memory states the slot can be in: those numbered below this; all of them when left out. */
  readonly memoryRows?: number;
}

export interface Lattice {
  readonly slots: readonly LatticeSlot[];
  /** Number of placements in the move tables; their rows have this length. */
  readonly placementCount: number;
  /** Number of memory states; rules have an entry for each. */
  readonly memoryCount: number;
  /** The memory state of the first slot. */
  readonly startMemory: number;
  /** A `SolvedCache`: what solving the lattices before left and what this one will leave. Results are the same without it. */
  readonly cache?: object;
  /** `Vectors`: loops that are faster than those in plain numbers. Results are the same without them. */
  readonly vectors?: object | undefined;
}

/** How many memory states slot t can be in. */
export const rowsAt = ({ slots, memoryCount }: Lattice, t: number): number =>
  slots[t]!.memoryRows ?? memoryCount;

/** One choice a slot: indices into the slot's `placements`. */
export type Path = Int32Array;

/** A path with its cost. */
export interface Best {
  readonly path: Path;
  readonly cost: number;
}

/** Index of the pitch that each placement of a slot has. */
export function pitchOfPlacement(slot: LatticeSlot): Int32Array {
  const result = new Int32Array(slot.placements.length);
  for (let pitch = 0; pitch < slot.pitches.length; pitch++) {
    result.fill(pitch, slot.groupStart[pitch], slot.groupStart[pitch + 1]);
  }
  return result;
}

/** Index of the pitch that one placement of a slot has. */
export function pitchAt({ groupStart }: LatticeSlot, placement: number): number {
  let pitch = 0;
  while (groupStart[pitch + 1]! <= placement) pitch++;
  return pitch;
}

/** The rule of a step between two pitches (indices) of a slot and the next one. */
export const ruleAt = (slot: LatticeSlot, pitch: number, next: number, columns: number): StepRule =>
  slot.rules[slot.ruleOf[pitch * columns + next]!]!;

/** The memory state at every slot of a path; after a step that may not be made it stays where it was. */
export function memoriesOf(lattice: Lattice, path: ArrayLike<number>): Int32Array {
  const { slots, startMemory } = lattice;
  const result = new Int32Array(slots.length).fill(startMemory);
  for (let t = 0; t + 1 < slots.length; t++) {
    const next = slots[t + 1]!;
    const rule = ruleAt(
      slots[t]!,
      pitchAt(slots[t]!, path[t]!),
      pitchAt(next, path[t + 1]!),
      next.pitches.length,
    );
    result[t + 1] = rule.costs[result[t]!]! < barrier ? rule.next[result[t]!]! : result[t]!;
  }
  return result;
}

/** The cost of a path by definition, term by term; the independent measure of what the messages find. */
export function pathCost(lattice: Lattice, path: ArrayLike<number>): number {
  const { slots, placementCount } = lattice;
  const pitchIndex = slots.map((slot, t) => pitchAt(slot, path[t]!));
  const memories = memoriesOf(lattice, path);
  let total = 0;
  slots.forEach((slot, t) => {
    total += slot.pitchCosts[pitchIndex[t]!]! + slot.placementCosts[path[t]!]!;
    const next = slots[t + 1];
    if (!next) return;
    const columns = next.pitches.length;
    total += slot.stepCosts[pitchIndex[t]! * columns + pitchIndex[t + 1]!]!;
    total += ruleAt(slot, pitchIndex[t]!, pitchIndex[t + 1]!, columns).costs[memories[t]!]!;
    const [from, to] = [slot.placements[path[t]!]!, next.placements[path[t + 1]!]!];
    total += slot.moves.costs[moveIndex(slot.moves, placementCount, from, to)]!;
  });
  return total;
}
