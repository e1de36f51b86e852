// What a beat in a region costs more: laid on the lattice, never told as part of the line.
//
// Pre: candidates and the lattice that was built over them. Post: the lattice whose placements bear the prices; slots that
// cost the same are one object again, so that a form that comes round is still known to come round.
import { getOrMake } from '../../cache';
import { milli, ticksPerQuarter, type Milli, type Ticks } from '../../music';
import type { Placement } from '../../instrument';
import { isCounted, type RegionPrice, type SlotCandidates } from '../3-candidates';
import { bestPath, pathCost, type Lattice, type LatticeSlot, type Path } from '../4-solver';

/**
 * What prices add to a note, in cost units. Rounded down: a line never bears more than price times beats, so that a bound
 * drawn from it holds for whole numbers, too.
 */
export function priceOf(placement: Placement, ticks: Ticks, prices: readonly RegionPrice[]): number {
  const beats = ticks / ticksPerQuarter;
  return prices.reduce((sum, price) => {
    const isPriced = isCounted(placement, price) === (price.side === 'inside');
    return sum + (isPriced ? Math.floor(price.perBeat * beats) : 0);
  }, 0);
}

/**
 * @param candidates those the lattice was built over, slot by slot
 * @param played how many of the slots are played: the return to the top bears no price
 */
export function priced(
  lattice: Lattice,
  candidates: readonly SlotCandidates[],
  prices: readonly RegionPrice[],
  played: number,
): Lattice {
  if (prices.every(({ perBeat }) => perBeat === 0)) return lattice;
  const made = new Map<LatticeSlot, Map<Ticks, LatticeSlot>>();
  const slots = lattice.slots.map((slot, t) => {
    if (t >= played) return slot;
    const { slot: moment, placements } = candidates[t]!;
    const byLength = getOrMake(made, slot, () => new Map<Ticks, LatticeSlot>());
    return getOrMake(byLength, moment.ticks, () => {
      const placementCosts = slot.placementCosts.map(
        (cost, h) => cost + priceOf(placements[h]!, moment.ticks, prices),
      );
      // A slot that no price touches stays the object it is: solved again, it is known to be the same.
      const isTouched = placementCosts.some((cost, h) => cost !== slot.placementCosts[h]);
      return isTouched ? { ...slot, placementCosts } : slot;
    });
  });
  return { ...lattice, slots };
}

/** How much more a path costs than the least there is under the same prices. */
export function overLeastOf(lattice: Lattice, path: Path): Milli {
  const least = bestPath(lattice)?.cost ?? 0;
  return milli(Math.max(0, pathCost(lattice, path) - least));
}
