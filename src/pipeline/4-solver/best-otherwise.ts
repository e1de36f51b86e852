// The best path through a block whose pitches are none of some that are forbidden, exactly: the best path, and where it is
// forbidden, the best of what is left when its set of paths is split at each slot in turn (Lawler 1972, Management Science 18;
// Murty 1968, Operations Research 16).
import { blockOf } from './block-draw';
import { bestPath } from './min-marginals';
import { infinite, pitchAt, type Lattice, type LatticeSlot, type Path } from './lattice';

/** Pitches (coordinates) that one slot must have, or must not. */
interface Demand {
  readonly only: number | null;
  readonly not: readonly number[];
}

interface Part {
  readonly demands: readonly Demand[];
  readonly path: Path;
  readonly cost: number;
}

const anything: Demand = { only: null, not: [] };

const meets = ({ only, not }: Demand, pitch: number): boolean =>
  (only === null || only === pitch) && !not.includes(pitch);

function withDemand(slot: LatticeSlot, demand: Demand): LatticeSlot {
  if (demand === anything) return slot;
  return {
    ...slot,
    pitchCosts: slot.pitchCosts.map((cost, index) => (meets(demand, slot.pitches[index]!) ? cost : infinite)),
  };
}

/** Parts that are looked at before giving up: pins and masks may leave nothing else. */
const mostParts = 64;

/**
 * The best path in which slots `from` to `to` have other pitches than each of `forbidden`, everything around them as it is;
 * null when there is none.
 */
export function bestOtherwise(
  lattice: Lattice,
  path: Path,
  from: number,
  to: number,
  isForbidden: (pitches: readonly number[]) => boolean,
): Path | null {
  const block = blockOf(lattice, path, from, to);
  const { slots } = block.lattice;
  const start = from - block.first;
  const length = to - from + 1;
  const solve = (demands: readonly Demand[]): Part | null => {
    const asked = slots.map((slot, t) => withDemand(slot, demands[t - start] ?? anything));
    const best = bestPath({ ...block.lattice, slots: asked });
    return best && { demands, ...best };
  };
  const pitchesOf = (part: Part): number[] =>
    Array.from({ length }, (_, k) => {
      const slot = slots[start + k]!;
      return slot.pitches[pitchAt(slot, part.path[start + k]!)]!;
    });
  const first = solve(Array.from({ length }, () => anything));
  let parts = first ? [first] : [];
  for (let looked = 0; parts.length > 0 && looked < mostParts; looked++) {
    const best = parts.reduce((a, b) => (b.cost < a.cost ? b : a));
    const pitches = pitchesOf(best);
    if (!isForbidden(pitches)) {
      const result = path.slice();
      for (let t = from; t <= to; t++) result[t] = best.path[t - block.first]!;
      return result;
    }
    parts = parts.filter((part) => part !== best);
    pitches.forEach((pitch, k) => {
      const demands = best.demands.map((demand, at): Demand => {
        if (at < k) return { only: pitches[at]!, not: [] };
        return at === k ? { ...demand, not: [...demand.not, pitch] } : demand;
      });
      const part = solve(demands);
      if (part) parts.push(part);
    });
  }
  return null;
}
