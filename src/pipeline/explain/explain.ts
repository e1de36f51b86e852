// What every other choice would cost, what an open string buys, and how much room is left: read from the same lattice.
//
// Prices compare whole lines: the best line through a place at a beat against the best line there is. They do not depend
// on the take that is shown. Elbow room depends on the note before, so it is told for the line that is shown.
import { milli, pitchClass, spellInContext, spellPitch, type Milli, type SpelledPitch } from '../../music';
import { isOpenString, type Placement } from '../../instrument';
import type { Timeline } from '../2-timeline';
import type { SlotCandidates } from '../3-candidates';
import {
  choicesPerSlot,
  infinite,
  memoriesOf,
  pitchAt,
  minMarginals,
  ruleAt,
  visitRoom,
  type Entropies,
  type MinMarginals,
} from '../4-solver';
import {
  labelsWith,
  makeLine,
  naturalUnit,
  reasonFor,
  roleOf,
  type Line,
  type NamedNote,
  type Role,
} from '../5-line';
import {
  emptyCaches,
  makeInstance,
  requestWishes,
  type Caches,
  type ProblemInstance,
} from '../problem/instance';
import type { WalkRequest, WalkResult } from '../types';

/** Slots that elbow room looks ahead. */
export const roomWindow = 8;
/** Fewer good choices a beat than this: boxed in. */
export const boxedInUnder = 1.3;

/** A spot on the fingerboard at one beat: the best way to hold it, with its price. */
export interface Spot {
  readonly placement: Placement;
  readonly pitch: SpelledPitch;
  /** What it would be, with the notes around it as they are: a device, or its degree. */
  readonly label: string;
  readonly role: Role;
  /** A sentence that says what the note would be for, the notes around it as they are. */
  readonly reason: string;
  /** Added to the whole line by this choice, against the best line there is. */
  readonly price: Milli;
  /** Good choices a beat from here on, after the line's note before; null where it was not asked for. */
  readonly choices: number | null;
}

/** The best line with this open string beside the best one without an open string here, as far as they differ. */
export interface OpenStringRoutes {
  /** Index of the first note that differs. */
  readonly first: number;
  readonly open: readonly Placement[];
  readonly stopped: readonly Placement[];
}

export interface SlotExplanation {
  /** Every spot in reach, cheapest first. */
  readonly spots: readonly Spot[];
  /** Price of the note that is played. */
  readonly price: Milli;
  /** For an open string: what the best line without an open string here costs more; null for stopped notes. */
  readonly openStringBuys: Milli | null;
  /** The two routes that this compares; left out where it is null. */
  readonly openStringRoutes?: OpenStringRoutes;
  readonly choices: number | null;
  readonly isBoxedIn: boolean;
}

export interface Explanation {
  /** Cost of the best line there is. */
  readonly optimum: Milli;
  /** One for each note of the line. */
  readonly slots: readonly SlotExplanation[];
}

const spotKey = (placement: Placement): string => `${placement.string}/${placement.stop}`;

/** Indices of the cheapest placement of each spot, cheapest spot first. */
function cheapestSpots(candidates: SlotCandidates, through: Int32Array): number[] {
  const best = new Map<string, number>();
  candidates.placements.forEach((placement, h) => {
    if (through[h]! >= infinite) return;
    const known = best.get(spotKey(placement));
    if (known === undefined || through[h]! < through[known]!) best.set(spotKey(placement), h);
  });
  return [...best.values()].sort((a, b) => through[a]! - through[b]! || a - b);
}

/** Index of the placement that the line plays among the candidates; with stays counted, the cheapest copy of it. */
function playedIndex(candidates: SlotCandidates, played: Placement, through: Int32Array): number {
  let found = -1;
  candidates.placements.forEach((one, h) => {
    const isSame =
      spotKey(one) === spotKey(played) && one.finger === played.finger && one.position === played.position;
    if (isSame && (found < 0 || through[h]! < through[found]!)) found = h;
  });
  return found;
}

/** Elbow room of one slot: by state, with the weight that it was counted with. */
interface SlotRoom {
  readonly bits: Entropies;
  readonly weight: number;
}

/** Everything that the explanation of a slot is read from. */
interface Known {
  readonly instance: ProblemInstance;
  readonly prices: MinMarginals;
  readonly line: Line;
  /** What notes would be in the place of the line's. */
  readonly labels: ReturnType<typeof labelsWith>;
  /** The line in the lattice: placements, and the memory at each. */
  readonly path: Int32Array;
  readonly memories: Int32Array;
}

/** The memory at placement h of slot t after the line's note before. */
function memoryAt({ instance, path, memories }: Known, t: number, h: number): number {
  const { slots, startMemory } = instance.lattice;
  if (t === 0) return startMemory;
  const before = slots[t - 1]!;
  const slot = slots[t]!;
  const rule = ruleAt(before, pitchAt(before, path[t - 1]!), pitchAt(slot, h), slot.pitches.length);
  return rule.next[memories[t - 1]!]!;
}

/** Good choices a beat for placement h of slot t after the line's note before. */
function choicesAt(known: Known, room: SlotRoom | null, t: number, h: number): number | null {
  if (!room) return null;
  const state = memoryAt(known, t, h) * known.instance.candidates[t]!.placements.length + h;
  // A step that the rules never allow leads to no state: nothing is counted on from there.
  const bits = room.bits[state] ?? 0;
  return choicesPerSlot(Number.isFinite(bits) ? bits : 0, room.weight);
}

/** What a note would be and do in the place of the one that is played. */
type Meaning = Pick<Spot, 'pitch' | 'label' | 'role' | 'reason'>;

function meaningOf({ instance, line, labels: labelsAt }: Known, t: number, placement: Placement): Meaning {
  const { slot } = instance.candidates[t]!;
  const { midi } = placement;
  const { chord, scale, key } = slot.harmony;
  const name = spellInContext(pitchClass(midi), { chord, scale, key, next: null });
  const noteAt = (index: number): NamedNote | undefined => {
    if (index === t) return { name, midi, harmony: slot.harmony };
    const note = line.notes[index];
    return note && { name: note.pitch.name, midi: note.midi, harmony: note.harmony };
  };
  const labels = labelsAt(t, { slot, placement, midi, carry: null });
  return {
    pitch: spellPitch(midi, name),
    label: labels.label,
    role: roleOf(labels),
    reason: reasonFor(t, labels, noteAt, []),
  };
}

/** Meanings by pitch, an open string apart: other ways to hold a note do not change what it is for. */
type Meanings = Map<string, Meaning>;

function spotOf(
  known: Known,
  room: SlotRoom | null,
  t: number,
  h: number,
  price: number,
  meanings: Meanings,
): Spot {
  const placement = known.instance.candidates[t]!.placements[h]!;
  const key = `${placement.midi} ${isOpenString(placement)}`;
  const meaning = meanings.get(key) ?? meaningOf(known, t, placement);
  meanings.set(key, meaning);
  return { placement, ...meaning, price: milli(price), choices: choicesAt(known, room, t, h) };
}

/** The stopped note at a slot that a line goes through most cheaply; -1 when only open strings are left. */
function cheapestStopped({ placements }: SlotCandidates, prices: Int32Array): number {
  let found = -1;
  placements.forEach((placement, h) => {
    if (isOpenString(placement) || prices[h]! >= infinite) return;
    if (found < 0 || prices[h]! < prices[found]!) found = h;
  });
  return found;
}

type OpenStringCase = Pick<SlotExplanation, 'openStringBuys' | 'openStringRoutes'>;

/** What the open string h of slot t buys, with both routes. */
function openStringCase({ instance, prices }: Known, t: number, h: number, own: Int32Array): OpenStringCase {
  const { candidates } = instance;
  const isOpen = isOpenString(candidates[t]!.placements[h]!);
  const stopped = isOpen ? cheapestStopped(candidates[t]!, own) : -1;
  const parting = stopped < 0 ? null : prices.parting(t, h, stopped);
  if (!parting) return { openStringBuys: null };
  const { first, path, other } = parting;
  const placementsOf = (places: Int32Array): Placement[] =>
    Array.from(places, (place, index) => candidates[first + index]!.placements[place]!);
  return {
    openStringBuys: milli(own[stopped]! - own[h]!),
    openStringRoutes: { first, open: placementsOf(path), stopped: placementsOf(other) },
  };
}

function explainSlot(known: Known, t: number, room: SlotRoom | null): SlotExplanation {
  const candidates = known.instance.candidates[t]!;
  const prices = known.prices.at(t);
  const h = known.path[t]!;
  const choices = choicesAt(known, room, t, h);
  const meanings: Meanings = new Map();
  return {
    spots: cheapestSpots(candidates, prices).map((one) =>
      spotOf(known, room, t, one, prices[one]!, meanings),
    ),
    price: milli(prices[h]!),
    ...openStringCase(known, t, h, prices),
    choices,
    isBoxedIn: choices !== null && choices < boxedInUnder,
  };
}

/**
 * @param options.room also work out elbow room, which takes several times as long as the prices
 * @param caches carried from ask to ask: what has not changed is not made again
 * @returns null when the result has no line
 */
export function explain(
  request: WalkRequest,
  result: WalkResult,
  options: { readonly room: boolean },
  caches: Caches = emptyCaches(),
): Explanation | null {
  const { line, timeline } = result;
  // Notes of one's own are chosen already: there is nothing to be priced against.
  if (request.own) return null;
  const found = line && timeline && pricedFor(request, timeline, line, caches);
  if (!found) return null;
  const { instance, prices } = found;
  const path = Int32Array.from(line.notes, ({ placement }, t) =>
    Math.max(0, playedIndex(instance.candidates[t]!, placement, prices.at(t))),
  );
  const played = { ...instance.lattice, slots: instance.lattice.slots.slice(0, path.length) };
  const known: Known = {
    instance,
    prices,
    line,
    path,
    memories: memoriesOf(played, path),
    labels: labelsWith(line.notes),
  };
  const slots = new Array<SlotExplanation>(line.notes.length);
  const explainOne = (t: number, room: SlotRoom | null): void => {
    if (t < slots.length) slots[t] = explainSlot(known, t, room);
  };
  if (options.room) {
    const temperature = request.take.temperature > 0 ? request.take.temperature : 1;
    visitRoom(instance.lattice, temperature, naturalUnit, roomWindow, (t, bits, weight) => {
      explainOne(t, { bits, weight });
    });
  } else {
    for (let t = slots.length - 1; t >= 0; t--) explainOne(t, null);
  }
  return { optimum: milli(prices.optimum), slots };
}

interface Priced {
  readonly instance: ProblemInstance;
  readonly prices: MinMarginals;
}

/** Prices among the lines that keep to the rules; where the line that is shown does not, among all. */
function pricedFor(request: WalkRequest, timeline: Timeline, line: Line, caches: Caches): Priced | null {
  const under = (isStrict: boolean): Priced | null => {
    const wishes = requestWishes(request, timeline);
    const instance = makeInstance(request, timeline, wishes, request.limits.stay, caches, isStrict);
    const prices = instance && minMarginals(instance.lattice);
    return prices && { instance, prices };
  };
  const strict = under(true);
  const isAmongThem =
    strict !== null &&
    line.notes.every(({ placement }, t) => {
      const own = strict.prices.at(t);
      const h = playedIndex(strict.instance.candidates[t]!, placement, own);
      return h >= 0 && own[h]! < infinite;
    });
  return isAmongThem ? strict : under(false);
}

/** The best whole line through a placement at a note, for showing the way it would take; null when there is none. */
export function lineThrough(
  request: WalkRequest,
  result: WalkResult,
  index: number,
  placement: Placement,
  caches: Caches = emptyCaches(),
): Line | null {
  const { timeline, line } = result;
  const found = timeline && line && pricedFor(request, timeline, line, caches);
  if (!found) return null;
  const { instance, prices } = found;
  const h = playedIndex(instance.candidates[index]!, placement, prices.at(index));
  const best = h < 0 ? null : prices.pathThrough(index, h);
  return best && makeLine(instance.candidates, best.path, timeline.slots.length, instance.model);
}
