// What a layer asks of every slot and of every step: its rules laid over one timeline.
//
// Pre: a timeline; notes of their own follow each other where the layer asks for devices or steps (it is made without
// figures of the rhythm). Post: for each slot the notes that each rule leaves, and for each step what has to be remembered
// to hold rules that look further: devices as steps into a change, what a chord must have somewhere, what the change before
// was led into by. The slot after the last is the return to the top: the first chord again.
import type { SoundingMidi } from '../../music';
import { isOrnament, type Slot, type Timeline } from '../2-timeline';
import type { DeviceId } from '../5-line';
import { distancesFrom, fitsWay, isTargetOf, roomFor, deviceWaysInto, type WayOfDevice } from './device-ways';
import { ruleIn, type Layer, type LayerRule } from './layers';
import { hasPart, isOfSet, isPart } from './parts';

export type RuleKind = LayerRule['rule'];

/** What one rule leaves of the notes of a slot. */
export interface Demand {
  readonly rule: RuleKind;
  readonly allows: (midi: SoundingMidi) => boolean;
  /** The notes it leaves are on offer, whatever the harmony says. */
  readonly offers: boolean;
}

/** A change that is led into. */
export interface LedChange {
  /** Slot of the note that opens the chord. */
  readonly target: number;
  /** In the order of choice; the first that is played counts. */
  readonly ways: readonly WayOfDevice[];
  /** The first slot that any of them begins on. */
  readonly first: number;
}

export interface LayerPlan {
  readonly layer: Layer;
  /** By slot, the return included. */
  readonly demands: readonly (readonly Demand[])[];
  /** By the slot that a step leaves: the change that the step is part of. */
  readonly led: readonly (LedChange | null)[];
  /** Slots that open a chord before which nothing leads for want of room: what led before is forgotten there. */
  readonly forgetsAt: ReadonlySet<number>;
  /** By slot: the parts one of which its chord must have somewhere; null where none is asked for. */
  readonly speaks: readonly (readonly [opens: number, last: number, on: Parts] | null)[];
  /** By the slot that a step leaves: true where it must be a step. */
  readonly byStep: readonly boolean[];
  /** Devices that count as one, by device; null where two in a row may be alike. */
  readonly alike: ((device: DeviceId) => DeviceId) | null;
}

type Parts = Extract<LayerRule, { rule: 'speaks' }>['on'];

/** A chord as it sounds: slots of its notes, ornaments left out. */
type ChordSlots = readonly number[];

function chordsOf(slots: readonly Slot[]): readonly ChordSlots[] {
  const chords: number[][] = [];
  slots.forEach((slot, index) => {
    if (isOrnament(slot.articulation)) return;
    if (chords.length === 0 || slot.isChange) chords.push([index]);
    else chords.at(-1)!.push(index);
  });
  return chords;
}

/** A chord and the slot that opens the next one, where nothing silent lies between. */
interface Change {
  readonly before: ChordSlots;
  readonly target: number;
}

function changesOf(
  { slots }: Timeline,
  chords: readonly ChordSlots[],
  goesRound: boolean,
): readonly Change[] {
  const last = slots[chords.at(-1)!.at(-1)!]!;
  const leadsRound = goesRound && last.nextIsChange;
  return chords.flatMap((before, place): readonly Change[] => {
    const next = chords[place + 1];
    const target = next ? next[0]! : leadsRound ? slots.length : null;
    return target === null || slots[before.at(-1)!]!.restAfter > 0 ? [] : [{ before, target }];
  });
}

interface Leading {
  readonly led: (LedChange | null)[];
  readonly forgetsAt: Set<number>;
  /** Slots that no other rule speaks of. */
  readonly leading: Set<number>;
}

function leadingOf({ rules }: Layer, changes: readonly Change[], count: number): Leading {
  const result: Leading = {
    led: new Array<LedChange | null>(count).fill(null),
    forgetsAt: new Set(),
    leading: new Set(),
  };
  for (const rule of rules) {
    if (rule.rule !== 'into') continue;
    let counted = 0;
    for (const { before, target } of changes) {
      const choice = rule.by.find((devices) => roomFor(devices[0]!) <= before.length - 1);
      if (!choice) {
        result.forgetsAt.add(target);
        continue;
      }
      counted++;
      if (counted % rule.every !== 0) continue;
      const ways = deviceWaysInto(choice, target);
      const first = Math.min(...ways.map((way) => way.first));
      const change = { target, ways, first };
      for (let t = Math.max(0, first); t < target; t++) result.led[t] = change;
      for (const slot of before.slice(before.length - roomFor(choice[0]!))) result.leading.add(slot);
    }
  }
  return result;
}

/** The notes that some way of a change leaves at one of its slots, given where the target may lie. */
function intoDemand(
  slots: readonly Slot[],
  at: number,
  { ways, target }: LedChange,
  opens: (midi: SoundingMidi) => boolean,
): Demand {
  const reach = ways.filter(({ first }) => first <= at).map((way) => [way, distancesFrom(way, at)] as const);
  const slot = slots[at]!;
  const to = slots[target]!;
  const allows = (midi: SoundingMidi): boolean =>
    reach.some(
      ([way, distances]) =>
        fitsWay(way, slot, to, midi) &&
        [...distances].some((by) => {
          const reached = (midi + by) as SoundingMidi;
          return isTargetOf(way, to, reached) && opens(reached);
        }),
    );
  // Before all ways have begun the note may be any.
  return { rule: 'into', allows, offers: true };
}

/** Slots with the return to the top behind them. */
const withTop = ({ slots }: Timeline): readonly Slot[] => [
  ...slots,
  { ...slots[0]!, index: slots.length, isChange: true },
];

/**
 * @param only the rules that are laid out; all of the layer's when left out
 * @param goesRound whether the end leads back to the top
 */
export function planOf(
  layer: Layer,
  timeline: Timeline,
  goesRound: boolean,
  only: (rule: RuleKind) => boolean = () => true,
): LayerPlan {
  const rules = layer.rules.filter(({ rule }) => only(rule));
  const kept = { ...layer, rules };
  const slots = withTop(timeline);
  const { length } = timeline.slots;
  const chords = chordsOf(timeline.slots);
  const changes = changesOf(timeline, chords, goesRound);
  const { led, forgetsAt, leading } = leadingOf(kept, changes, length);
  const demands: Demand[][] = slots.map(() => []);
  const speaks: LayerPlan['speaks'][number][] = slots.map(() => null);
  const byStep = new Array<boolean>(length).fill(false);
  for (const rule of rules) {
    chords.forEach((chord, place) => {
      const [opens] = chord as readonly [number];
      const { harmony } = slots[opens]!;
      const add = (slot: number, allows: Demand['allows'], offers: boolean): void => {
        demands[slot]!.push({ rule: rule.rule, allows, offers });
        if (slot === 0) demands[length]!.push({ rule: rule.rule, allows, offers });
      };
      if (rule.rule === 'opens' && (place + 1) % rule.every === 0 && hasPart(harmony, rule.on))
        add(opens, (midi) => isPart(harmony, midi, rule.on), true);
      if (rule.rule === 'speaks' && chord.length >= rule.least && hasPart(harmony, rule.on)) {
        if (chord.length === 1) add(opens, (midi) => isPart(harmony, midi, rule.on), true);
        else for (const slot of chord) speaks[slot] = [opens, chord.at(-1)!, rule.on];
      }
      for (const slot of chord.slice(1)) {
        const own = slots[slot]!.harmony;
        if (rule.rule === 'inner' && slots[slot]!.strength === 2 && hasPart(harmony, rule.on))
          add(slot, (midi) => isPart(own, midi, rule.on), true);
        if (rule.rule === 'roots' && !leading.has(slot))
          add(slot, (midi) => !isPart(own, midi, ['root']), false);
        if (rule.rule === 'steps' && slots[slot - 1]!.bar === slots[slot]!.bar) byStep[slot - 1] = true;
      }
      for (const slot of chord) {
        const own = slots[slot]!.harmony;
        if (rule.rule === 'notes' && rule.are !== 'all' && !leading.has(slot))
          add(slot, (midi) => isOfSet(own, midi, rule.are), false);
      }
    });
  }
  led.forEach((change, at) => {
    if (!change || change.ways.some(({ first }) => first > at)) return;
    const opening = demands[change.target]!.filter(({ rule }) => rule === 'opens');
    demands[at]!.push(intoDemand(slots, at, change, (midi) => opening.every(({ allows }) => allows(midi))));
  });
  const differ = ruleIn(kept, 'differ');
  const alike = differ
    ? (device: DeviceId): DeviceId => differ.alike.find((list) => list.includes(device))?.[0] ?? device
    : null;
  return { layer, demands, led, forgetsAt, speaks, byStep, alike };
}
