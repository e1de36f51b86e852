// The longest stay, exactly: stopped placements of a region carry how many beats the hand has been there.
//
// Pre: candidates over a placement table. Post: candidates over a larger table in which each stopped placement of the
// region stands once for every length of stay up to the limit; `followsOn` tells which moves between them are real.
import { ticksPerQuarter } from '../../music';
import { regionOf, type Placement } from '../../instrument';
import type { Slot } from '../2-timeline';
import type { SlotCandidates } from './candidates';
import type { StayLimit } from './wishes';

/** A placement with the beats of the stay that end with it; 0 where no stay is counted. */
export interface StayingPlacement extends Placement {
  readonly stay: number;
}

/** Beats of a slot, begun ones counted whole. */
const beatsOf = (slot: Pick<Slot, 'ticks'>): number => Math.ceil(slot.ticks / ticksPerQuarter);

export const isCounted = (placement: Placement, { region }: StayLimit): boolean =>
  placement.finger !== '0' && regionOf(placement.position) === region;

/** Each counted placement once for every length of stay. */
function expandTable(placements: readonly Placement[], limit: StayLimit): readonly StayingPlacement[] {
  const result: StayingPlacement[] = [];
  for (const placement of placements) {
    const stays = isCounted(placement, limit)
      ? Array.from({ length: limit.beats }, (_, index) => index + 1)
      : [0];
    for (const stay of stays) result.push({ ...placement, id: result.length, stay });
  }
  return result;
}

/** The candidates with stays counted, and the table they point into. */
export function countStays(
  candidates: readonly SlotCandidates[],
  placements: readonly Placement[],
  limit: StayLimit,
): { readonly candidates: readonly SlotCandidates[]; readonly placements: readonly StayingPlacement[] } {
  const table = expandTable(placements, limit);
  const copies = new Map<string, StayingPlacement[]>();
  const keyOf = (one: Placement): string => [one.string, one.stop, one.finger, one.position].join();
  for (const one of table) copies.set(keyOf(one), [...(copies.get(keyOf(one)) ?? []), one]);
  const expanded = candidates.map((one, index): SlotCandidates => {
    const length = beatsOf(one.slot);
    const pitches: SlotCandidates['pitches'][number][] = [];
    const result: Placement[] = [];
    const groupStart = [0];
    one.pitches.forEach((pitch, group) => {
      const own = one.placements
        .slice(one.groupStart[group], one.groupStart[group + 1])
        .flatMap((placement) => copies.get(keyOf(placement)) ?? [])
        .filter(({ stay }) => stay === 0 || (index === 0 ? stay === length : stay >= length));
      if (own.length === 0) return;
      pitches.push(pitch);
      result.push(...own);
      groupStart.push(result.length);
    });
    return { slot: one.slot, pitches, placements: result, groupStart };
  });
  return { candidates: expanded, placements: table };
}

/** Beats of the stay that end with a placement; 0 where none is counted. */
export const stayOf = (placement: Placement): number => (placement as Partial<StayingPlacement>).stay ?? 0;

/** True when one placement can follow another: a stay goes on by the length of the next slot, or begins with it. */
export const followsOn = (from: Placement, to: Placement, toSlot: Pick<Slot, 'ticks'>): boolean =>
  stayOf(to) === 0 || stayOf(to) === stayOf(from) + beatsOf(toSlot);
