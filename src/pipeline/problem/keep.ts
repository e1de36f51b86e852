// Holding the notes of a line that was shown: as masks over the slots where they still stand.
//
// A note stands where its slot has the same beginning and length and every wish allows it. A bar with a note that may not
// stand any more is drawn anew, with the note that led into it; so a pin or a limit changes the line near it.
import { ticksPerQuarter, barAfter, numberOfBar, type BarIndex, type BarNumber } from '../../music';
import { regionOf, type Placement, type Region } from '../../instrument';
import { goesRound, type KeptRhythm, type Slot, type Timeline } from '../2-timeline';
import { isCounted, type StayLimit, type Wish } from '../3-candidates';
import { barMarks, placeKept, type PlacedBars } from './kept-bars';
import type { Line } from '../5-line';
import type { KeptBar, KeptNote, WalkRequest } from '../types';

type Keeper = Pick<WalkRequest, 'kept' | 'ending' | 'take'>;

/** Without the bars that an edit came over, but for locked ones. */
function withoutEdited(placed: PlacedBars): PlacedBars {
  const { held, free, locked } = placed;
  return {
    ...placed,
    held: new Map([...held].filter(([index, { mark }]) => mark === undefined || locked.has(index))),
    free: new Map([...free].filter(([, { mark }]) => mark === undefined)),
  };
}

/**
 * Where the kept bars of a request stand in a form. At no variety only locked bars go on over an edit: the line asked for is
 * the best there is.
 */
export function placedBars(
  { kept = [], ending, take }: Keeper,
  { bars, feel }: Pick<Timeline, 'bars' | 'feel'>,
): PlacedBars {
  const placed = placeKept(kept, barMarks(bars, feel, !goesRound(ending)));
  return take.temperature === 0 ? withoutEdited(placed) : placed;
}

/** The moments of the bars that stay. */
export const keptRhythm = ({ held }: PlacedBars): KeptRhythm =>
  new Map([...held].map(([index, { notes }]) => [index, notes]));

/** The kept note of a slot, if its bar stays and its moment is still there. */
function noteAt(placed: PlacedBars, timeline: Timeline, slot: Slot): KeptNote | undefined {
  const bar = timeline.bars[slot.bar];
  if (!bar || slot.index >= timeline.slots.length) return undefined;
  const at = slot.tick - bar.tick;
  return placed.held.get(slot.bar)?.notes.find((note) => note.at === at && note.ticks === slot.ticks);
}

/** True when a placement is the note as it was held. */
export const isKeptAs = (note: KeptNote, placement: Placement): boolean =>
  placement.midi === note.midi &&
  placement.string === note.string &&
  placement.stop === note.stop &&
  placement.finger === note.finger &&
  placement.position === note.position;

/** Locked bars as wishes, one each; and all kept pitches put on offer, so that a line can go on as it was. */
export function keptWishes(request: Keeper, timeline: Timeline): readonly Wish[] {
  if (!request.kept || request.kept.length === 0) return [];
  const placed = placedBars(request, timeline);
  const offers = (slot: Slot): readonly KeptNote['midi'][] | undefined => {
    const note = noteAt(placed, timeline, slot);
    return note && [note.midi];
  };
  const locks = [...placed.locked].sort((a, b) => a - b);
  return [
    ...locks.map((index): Wish => ({
      words: `bar ${numberOfBar(index)} held`,
      source: { kind: 'limit', limit: 'kept bar', bar: placed.held.get(index)!.bar },
      allows: (placement, slot) => {
        if (slot.bar !== index) return true;
        const note = noteAt(placed, timeline, slot);
        return !note || isKeptAs(note, placement);
      },
    })),
    {
      words: 'the notes shown before',
      source: { kind: 'limit', limit: 'kept bar' },
      allows: () => true,
      offers,
    },
  ];
}

/** Bars in which held notes stay in a region for longer than they may. */
function overstayed(
  held: ReadonlyMap<Slot, KeptNote>,
  slots: readonly Slot[],
  stay: StayLimit,
): Set<BarIndex> {
  const bars = new Set<BarIndex>();
  let beats = 0;
  let region: Region | null = null;
  for (const slot of slots) {
    const note = held.get(slot);
    const own = note && isCounted(note, stay) ? regionOf(note.position) : null;
    beats = own === null ? 0 : (own === region ? beats : 0) + slot.ticks / ticksPerQuarter;
    region = own;
    if (beats > stay.beats) {
      bars.add(slot.bar);
      beats = 0;
    }
  }
  return bars;
}

/** The kept notes that stand, by slot. */
export type Holds = ReadonlyMap<number, KeptNote>;

/** @param canPlay whether a way to hold a note is on offer at a slot under all wishes */
export function holdsOf(
  placed: PlacedBars,
  timeline: Timeline,
  canPlay: (slot: Slot, note: KeptNote) => boolean,
  stay: StayLimit | undefined,
): Holds {
  const { slots } = timeline;
  const standing = new Map<Slot, KeptNote>();
  const broken = new Set<BarIndex>();
  for (const slot of slots) {
    const note = noteAt(placed, timeline, slot);
    if (!note) continue;
    if (canPlay(slot, note)) standing.set(slot, note);
    else broken.add(slot.bar);
  }
  if (stay) for (const bar of overstayed(standing, slots, stay)) broken.add(bar);
  const isFree = (bar: BarIndex): boolean => broken.has(bar) && !placed.locked.has(bar);
  const holds = new Map<number, KeptNote>();
  slots.forEach((slot, index) => {
    const note = standing.get(slot);
    if (!note || isFree(slot.bar)) return;
    const isLastOfBar = slots[index + 1]?.bar !== slot.bar;
    const leadsToNew = placed.loose.has(slot.bar) || isFree(barAfter(slot.bar));
    if (isLastOfBar && leadsToNew && !placed.locked.has(slot.bar)) return;
    holds.set(slot.index, note);
  });
  return holds;
}

/** All holds as one mask; nothing of it is told when it has to give way. */
export const holdWish = (holds: Holds): Wish => ({
  words: 'the notes shown before',
  source: { kind: 'limit', limit: 'kept bar' },
  allows: (placement, slot) => {
    const note = holds.get(slot.index);
    return !note || isKeptAs(note, placement);
  },
});

/** How many notes of bars that should have stayed are not in a line. */
export function lostNotes(placed: PlacedBars, timeline: Timeline, line: Line): number {
  let found = 0;
  for (const { slot, placement } of line.notes) {
    const note = noteAt(placed, timeline, slot);
    if (note && isKeptAs(note, placement)) found += 1;
  }
  const wanted = [...placed.held.values()].reduce((sum, { notes }) => sum + notes.length, 0);
  return wanted - found;
}

/** The notes of a line, bar by bar, to be kept. */
export function keptOf(
  line: Line,
  timeline: Timeline,
  locked: readonly BarNumber[] = [],
): readonly KeptBar[] {
  const byBar = new Map<BarIndex, KeptNote[]>();
  for (const { slot, placement, tick, ticks } of line.notes) {
    const bar = timeline.bars[slot.bar];
    if (!bar) continue;
    const { midi, string, stop, finger, position } = placement;
    const { articulation } = slot;
    const note: KeptNote = {
      at: tick - bar.tick,
      ticks,
      ...(articulation ? { articulation } : {}),
      ...{ midi, string, stop, finger, position },
    };
    byBar.set(slot.bar, [...(byBar.get(slot.bar) ?? []), note]);
  }
  return timeline.bars.map(({ index }): KeptBar => {
    const bar = numberOfBar(index);
    const hold = locked.includes(bar) ? { hold: 'locked' as const } : {};
    return { bar, ...hold, notes: byBar.get(index) ?? [] };
  });
}
