// Fingers are chosen, not drawn: the exact best way for the hand to play notes that are settled.
import type { Timeline } from '../2-timeline';
import { anyStep, bestPath, pitchAt, type Lattice, type LatticeSlot, type Path } from '../4-solver';

/** Notes are settled. */
const rules = [anyStep];
const onePitch = new Int32Array(1);
const oneRule = new Uint16Array(1);

/** What a slot offers when its note is settled: a range of its placements, or one of them. */
interface Offer {
  readonly first: number;
  readonly last: number;
}

const narrowed = (slot: LatticeSlot, { first, last }: Offer): LatticeSlot => ({
  pitches: onePitch,
  pitchCosts: onePitch,
  placements: slot.placements.subarray(first, last),
  placementCosts: slot.placementCosts.subarray(first, last),
  groupStart: Int32Array.of(0, last - first),
  stepCosts: onePitch,
  rules,
  ruleOf: oneRule,
  moves: slot.moves,
});

/** Costs of the hand alone, and the path that has them. */
export interface Fingering {
  readonly path: Path;
  readonly cost: number;
}

/** Placements of a note from which on the loops in vectors are worth what they have to lay out. */
const manyPlacements = 64;

function solved({ slots, placementCount, vectors }: Lattice, offers: readonly Offer[]): Fingering | null {
  const narrow = slots.map((slot, t) => narrowed(slot, offers[t]!));
  const isWide = offers.some(({ first, last }) => last - first >= manyPlacements);
  const best = bestPath({
    slots: narrow,
    placementCount,
    memoryCount: 1,
    startMemory: 0,
    vectors: isWide ? vectors : undefined,
  });
  return best && { cost: best.cost, path: best.path.map((h, t) => h + offers[t]!.first) };
}

const offersOf = ({ slots }: Lattice, path: Path): Offer[] =>
  slots.map((slot, t) => {
    const pitch = pitchAt(slot, path[t]!);
    return { first: slot.groupStart[pitch]!, last: slot.groupStart[pitch + 1]! };
  });

/** The best fingering of the notes of a path, under the masks of its lattice. */
export function bestFingering(lattice: Lattice, path: Path): Fingering {
  return solved(lattice, offersOf(lattice, path))!;
}

/** Slots of each bar. */
function barsOf({ slots }: Timeline): readonly (readonly number[])[] {
  const bars: number[][] = [];
  slots.forEach(({ bar }, index) => {
    if (index === 0 || slots[index - 1]!.bar !== bar) bars.push([]);
    bars.at(-1)!.push(index);
  });
  return bars;
}

/**
 * The best fingering of the notes of a path in which a bar that comes again, note for note, is held as it was the first
 * time, wherever that costs the hand nothing.
 */
export function steadyFingering(lattice: Lattice, path: Path, timeline: Timeline): Fingering {
  const offers = offersOf(lattice, path);
  let best = solved(lattice, offers)!;
  const held = new Map<string, readonly number[]>();
  for (const bar of barsOf(timeline)) {
    const key = bar
      .map(
        (t) =>
          `${lattice.slots[t]!.pitches[pitchAt(lattice.slots[t]!, path[t]!)]!}/${timeline.slots[t]!.ticks}`,
      )
      .join();
    const before = held.get(key);
    if (before) best = heldAsBefore(lattice, offers, best, bar, before);
    else held.set(key, bar);
  }
  return best;
}

/** Holds a bar as an earlier one is held, if the whole stays as cheap. */
function heldAsBefore(
  lattice: Lattice,
  offers: Offer[],
  best: Fingering,
  bar: readonly number[],
  before: readonly number[],
): Fingering {
  const wanted = bar.map((t, k) => {
    const id = lattice.slots[before[k]!]!.placements[best.path[before[k]!]!]!;
    return lattice.slots[t]!.placements.indexOf(id, offers[t]!.first);
  });
  const isOnOffer = wanted.every((h, k) => h >= offers[bar[k]!]!.first && h < offers[bar[k]!]!.last);
  if (!isOnOffer || wanted.every((h, k) => h === best.path[bar[k]!]!)) return best;
  const tried = [...offers];
  bar.forEach((t, k) => (tried[t] = { first: wanted[k]!, last: wanted[k]! + 1 }));
  // The earlier bar stays as it is, or the two would change places.
  before.forEach((t) => (tried[t] = { first: best.path[t]!, last: best.path[t]! + 1 }));
  const found = solved(lattice, tried);
  if (!found || found.cost > best.cost) return best;
  [...bar, ...before].forEach((t) => (offers[t] = tried[t]!));
  return found;
}
