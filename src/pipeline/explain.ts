// What every other choice would cost, what an open string buys, and how much room is left: read from the same lattice.
//
// Prices compare whole lines: the best line through a place at a beat against the best line there is. They do not depend
// on the take that is shown. Elbow room depends on the note before, so it is told for the line that is shown.
import { milli, pitchClass, spellInContext, spellPitch, type Milli, type SpelledPitch } from '../music';
import type { Placement } from '../instrument';
import type { SlotCandidates } from './3-candidates';
import {
  choicesPerSlot,
  elbowRoom,
  infinite,
  solve,
  throughCosts,
  withAllSums,
  bestPathThrough,
  type Room,
} from './4-solver';
import { makeLine, naturalUnit, roleOf, type Line, type Role } from './5-line';
import { makeSetting, requestWishes, type Setting } from './setting';
import type { WalkRequest, WalkResult } from './types';

/** Slots that elbow room looks ahead. */
export const roomWindow = 8;
/** Fewer good choices a beat than this: boxed in. */
export const boxedInUnder = 1.3;

/** A spot on the fingerboard at one beat: the best way to hold it, with its price. */
export interface Spot {
  readonly placement: Placement;
  readonly pitch: SpelledPitch;
  readonly role: Role;
  /** Added to the whole line by this choice, against the best line there is. */
  readonly price: Milli;
  /** Good choices a beat from here on, after the line's note before; null where it was not asked for. */
  readonly choices: number | null;
}

export interface SlotExplanation {
  /** Every spot in reach, cheapest first. */
  readonly spots: readonly Spot[];
  /** Price of the note that is played. */
  readonly price: Milli;
  /** For an open string: what the best line without an open string here costs more; null for stopped notes. */
  readonly openStringBuys: Milli | null;
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

/** Good choices a beat for placement h of slot t after the line's note before. */
function choicesAt(setting: Setting, room: Room | null, line: Line, t: number, h: number): number | null {
  if (!room) return null;
  const before = line.notes[t - 1];
  const m = before ? setting.candidates[t - 1]!.pitches.indexOf(before.midi) : 0;
  const bits = room.bits[t]![m * setting.candidates[t]!.placements.length + h]!;
  return choicesPerSlot(bits, room.lengths[t]!);
}

function spotOf(setting: Setting, room: Room | null, line: Line, t: number, h: number, price: number): Spot {
  const { slot, placements } = setting.candidates[t]!;
  const placement = placements[h]!;
  const { chord, scale, key } = slot.harmony;
  const name = spellInContext(pitchClass(placement.midi), { chord, scale, key, next: null });
  const role = roleOf({
    slot,
    placement,
    before: line.notes[t - 1]?.midi ?? null,
    after: line.notes[t + 1]?.midi ?? null,
  });
  return {
    placement,
    pitch: spellPitch(placement.midi, name),
    role,
    price: milli(price),
    choices: choicesAt(setting, room, line, t, h),
  };
}

/** Cheapest line through a stopped note at a slot, whatever the note; `infinite` when only open strings are left. */
function cheapestStopped(candidates: SlotCandidates, through: Int32Array): number {
  let least = infinite;
  candidates.placements.forEach((placement, h) => {
    if (placement.finger !== '0' && through[h]! < least) least = through[h]!;
  });
  return least;
}

/**
 * @param options.room also work out elbow room, which takes several times as long as the prices
 * @returns null when the result has no line
 */
export function explain(
  request: WalkRequest,
  result: WalkResult,
  options: { readonly room: boolean },
): Explanation | null {
  const { line, timeline } = result;
  const setting = line && timeline && makeSetting(request, timeline, requestWishes(request));
  if (!setting || !line) return null;
  const { lattice, candidates } = setting;
  const solved = withAllSums(solve(lattice));
  if (!solved.best) return null;
  const optimum = solved.best.cost;
  const through = throughCosts(lattice, solved.forward, solved.backward);
  const temperature = request.take.temperature > 0 ? request.take.temperature : 1;
  const room = options.room ? elbowRoom(lattice, temperature, naturalUnit, roomWindow) : null;
  const slots = line.notes.map((note, t): SlotExplanation => {
    const costs = through[t]!;
    const own = candidates[t]!;
    const h = playedIndex(own, note.placement, costs);
    const isOpen = note.placement.finger === '0';
    const stopped = isOpen ? cheapestStopped(own, costs) : infinite;
    const choices = choicesAt(setting, room, line, t, h);
    return {
      spots: cheapestSpots(own, costs).map((one) =>
        spotOf(setting, room, line, t, one, costs[one]! - optimum),
      ),
      price: milli(costs[h]! - optimum),
      openStringBuys: isOpen && stopped < infinite ? milli(stopped - costs[h]!) : null,
      choices,
      isBoxedIn: choices !== null && choices < boxedInUnder,
    };
  });
  return { optimum: milli(optimum), slots };
}

/** The best whole line through a placement at a note, for showing the way it would take; null when there is none. */
export function lineThrough(
  request: WalkRequest,
  result: WalkResult,
  index: number,
  placement: Placement,
): Line | null {
  const { timeline, line } = result;
  const setting = timeline && line && makeSetting(request, timeline, requestWishes(request));
  if (!setting || !timeline) return null;
  const solved = withAllSums(solve(setting.lattice));
  const through = throughCosts(setting.lattice, solved.forward, solved.backward);
  const h = playedIndex(setting.candidates[index]!, placement, through[index]!);
  const best = h < 0 ? null : bestPathThrough(setting.lattice, solved.forward, solved.backward, index, h);
  return best && makeLine(setting.candidates, best.path, timeline.slots.length, setting.model);
}
