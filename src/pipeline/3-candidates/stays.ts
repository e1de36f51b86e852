// The longest stay, exactly: stopped placements of a region carry how many notes the hand has been there.
//
// Pre: candidates over a placement table. Post: candidates over a larger table in which each stopped placement of the
// region stands once for every number of notes that a stay can have come to; which moves between them are real the move
// table tells (`Counted` in 4-solver). How long so many notes last is known at each slot, so lengths are compared in ticks,
// without rounding.
import { getOrMake, makeCache, type Cache } from '../../cache';
import { ticksPerQuarter } from '../../music';
import { thumbOf, type Placement } from '../../instrument';
import { grouped, mostSets, type SlotCandidates } from './candidates';
import { isCounted, type StayLimit } from './wishes';

/** A placement with the notes of the stay that end with it; 0 where no stay is counted. */
export interface StayingPlacement extends Placement {
  readonly stay: number;
}

/** For each slot, how many notes in a row that end with it fit into the limit; null where none is held. */
function longestRuns(
  candidates: readonly SlotCandidates[],
  { beats, during }: StayLimit,
): readonly (number | null)[] {
  const most = beats * ticksPerQuarter;
  let ticks = 0;
  let first = 0;
  return candidates.map(({ slot }, index) => {
    if (during && !during.bars.includes(slot.bar % during.of)) {
      ticks = 0;
      first = index + 1;
      return null;
    }
    ticks += slot.ticks;
    while (ticks > most) ticks -= candidates[first++]!.slot.ticks;
    return index + 1 - first;
  });
}

/** Each counted placement once for every number of notes up to `most`, and for none where the limit is not held. */
function expandTable(
  placements: readonly Placement[],
  limit: StayLimit,
  most: number,
): readonly StayingPlacement[] {
  const result: StayingPlacement[] = [];
  const counts = Array.from({ length: most }, (_, index) => index + 1);
  const ofCounted = limit.during ? [0, ...counts] : counts;
  for (const placement of placements) {
    const stays = isCounted(placement, limit) ? ofCounted : [0];
    for (const stay of stays) result.push({ ...placement, id: result.length, stay });
  }
  return result;
}

/** Sets and the table they point into, with stays counted. */
export interface Stays {
  readonly placements: readonly StayingPlacement[];
  readonly candidates: readonly SlotCandidates[];
}

/** What was expanded before, kept from call to call while the placements and the limit stay the same. */
export interface KnownStays {
  /** By the most notes in a stay. */
  readonly tables: Map<number, readonly StayingPlacement[]>;
  /** By table, notes in a stay at the slot, and set. */
  readonly sets: Cache<string, Omit<SlotCandidates, 'slot'>>;
}

export const emptyStays = (): KnownStays => ({ tables: new Map(), sets: makeCache({ most: mostSets }) });

/** The candidates with stays counted, and the table they point into. */
export function countStays(
  candidates: readonly SlotCandidates[],
  placements: readonly Placement[],
  limit: StayLimit,
  known: KnownStays = emptyStays(),
): Stays {
  const runs = longestRuns(candidates, limit);
  const most = runs.reduce<number>((a, b) => Math.max(a, b ?? 0), 0);
  const table = getOrMake(known.tables, most, () => expandTable(placements, limit, most));
  const copies = new Map<string, StayingPlacement[]>();
  for (const one of table) {
    const group = copies.get(keyOf(one));
    if (group) group.push(one);
    else copies.set(keyOf(one), [one]);
  }
  const expanded = candidates.map((one, index): SlotCandidates => {
    const run = runs[index]!;
    const key = [most, run ?? 'free', ...one.placements.map(({ id }) => id)].join();
    return { ...getOrMake(known.sets, key, () => expandSet(one, copies, limit, run)), slot: one.slot };
  });
  return { candidates: expanded, placements: table };
}

function expandSet(
  set: SlotCandidates,
  copies: ReadonlyMap<string, readonly StayingPlacement[]>,
  limit: StayLimit,
  run: number | null,
): Omit<SlotCandidates, 'slot'> {
  return grouped(set.pitches, (_midi, group) =>
    // Those of one count together: moves depend on it in runs.
    set.placements
      .slice(set.groupStart[group], set.groupStart[group + 1])
      .flatMap((placement) => copies.get(keyOf(placement)) ?? [])
      .filter((one) =>
        run === null || !isCounted(one, limit) ? one.stay === 0 : 0 < one.stay && one.stay <= run,
      )
      .toSorted((a, b) => a.stay - b.stay),
  );
}

const keyOf = (one: Placement): string =>
  [one.string, one.stop, one.finger, one.position, thumbOf(one)].join();

/** Notes of the stay that end with a placement; 0 where none is counted. */
export const stayOf = (placement: Placement): number => (placement as Partial<StayingPlacement>).stay ?? 0;
