// The layered graph that is solved. Numbers only: what a pitch or a placement means is nobody's business here.
//
// Each slot t offers pitches (integer coordinates, rising) and placements, each placement belonging to one pitch of the
// slot. A path chooses one placement h_t a slot, with pitch m_t. Its cost, in integer units, is
//
//   sum_t  A_t(m_t) + B_t(h_t)                      unary, on pitch and on placement
//        + R_t(m_t, m_{t+1})                        on one step of the pitch
//        + S(m_t - m_{t-1}, m_{t+1} - m_t)          on two steps in a row: the turn
//        + V_t(h_t, h_{t+1})                        on the move between two placements
//
// Everything second order looks at pitches only and every move at placements only. That is what makes the two-step
// elimination of forward.ts, backward.ts and sample.ts possible.

/** A cost no path may pay. Three of them still fit a 32-bit integer. */
export const infinite = 500_000_000;

/** Sums from here on contain an `infinite`, whatever was taken off them; costs of real paths stay far below. */
export const barrier = infinite / 2;

/** A sum with every blocked value made the same. */
export const clamp = (sum: number): number => (sum >= barrier ? infinite : sum);

/** Costs of moves between any two placements of the whole table: row from, column to. */
export interface MoveTable {
  readonly costs: Int32Array;
}

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
  /** R_t by pitch and next pitch, row major; empty on the last slot. */
  readonly stepCosts: Int32Array;
  /** V_t. On the last slot it is not used. */
  readonly moves: MoveTable;
}

export interface Lattice {
  readonly slots: readonly LatticeSlot[];
  /** Number of placements in the move tables; their rows have this length. */
  readonly placementCount: number;
  /** S by first and second step, each from -reach to reach: index (first + reach) * (2 reach + 1) + second + reach. */
  readonly turnCosts: Int32Array;
  readonly reach: number;
  /** A `Kept`: what solving the lattice before left and what this one will leave. Results are the same without it. */
  readonly kept?: object;
}

/** One choice a slot: indices into the slot's `placements`. */
export type Path = Int32Array;

/** Index of the pitch that each placement of a slot has. */
export function pitchOfPlacement(slot: LatticeSlot): Int32Array {
  const result = new Int32Array(slot.placements.length);
  for (let pitch = 0; pitch < slot.pitches.length; pitch++) {
    result.fill(pitch, slot.groupStart[pitch]!, slot.groupStart[pitch + 1]!);
  }
  return result;
}

/** Index of the pitch that one placement of a slot has. */
export function pitchAt({ groupStart }: LatticeSlot, placement: number): number {
  let pitch = 0;
  while (groupStart[pitch + 1]! <= placement) pitch++;
  return pitch;
}

/** The cost of a path by definition, term by term; the independent measure of what the recursions find. */
export function pathCost(lattice: Lattice, path: ArrayLike<number>): number {
  const { slots, turnCosts, reach, placementCount } = lattice;
  const width = 2 * reach + 1;
  const pitchIndex = slots.map((slot, t) => pitchAt(slot, path[t]!));
  const coordinate = slots.map((slot, t) => slot.pitches[pitchIndex[t]!]!);
  let total = 0;
  slots.forEach((slot, t) => {
    total += slot.pitchCosts[pitchIndex[t]!]! + slot.placementCosts[path[t]!]!;
    const next = slots[t + 1];
    if (!next) return;
    total += slot.stepCosts[pitchIndex[t]! * next.pitches.length + pitchIndex[t + 1]!]!;
    total += slot.moves.costs[slot.placements[path[t]!]! * placementCount + next.placements[path[t + 1]!]!]!;
    if (t > 0) {
      const first = coordinate[t]! - coordinate[t - 1]!;
      const second = coordinate[t + 1]! - coordinate[t]!;
      total += turnCosts[(first + reach) * width + second + reach]!;
    }
  });
  return total;
}
