// The rules of a layer that look further than one note, as a finite automaton over the steps of the line, composed with the
// lattice's own (4-solver/lattice.ts): its states are pairs of a memory of the grammar and one of the layer.
//
// Pre: candidates and the lattice over them, already masked by what the layer asks of single notes. Post: a lattice whose
// paths are those of the given one that hold the layer, at the same cost. States are numbered anew at every slot, those that
// can be reached from the top alone, so there are few of them wherever the layer remembers little.
import type { SlotCandidates } from '../3-candidates';
import { barrier, infinite, type Lattice, type LatticeSlot, type StepRule } from '../4-solver';
import type { DeviceId } from '../5-line';
import { isPart } from './parts';
import { fitsWay, isTargetOf } from './device-ways';
import type { LayerPlan, LedChange } from './plan';

/** What the line has done, as far as the layer asks. */
interface Done {
  /** Its chord has had the part that it must have somewhere. */
  readonly spoken: boolean;
  /** The device that led into the chord before, where two in a row must differ. */
  readonly before: DeviceId | null;
  /** The ways into the change ahead that the notes so far leave, a bit each; -1 where none has begun. */
  readonly open: number;
}

const nothingDone: Done = { spoken: false, before: null, open: -1 };

/** What a step between two pitches is to the layer: steps that agree lead from state to state alike. */
interface StepSense {
  /** The ways that it can be part of, a bit each. */
  readonly ways: number;
  readonly speaks: boolean;
}

const everyWay = -1;

/** Null for a step that is never made. */
function senseOf(
  plan: LayerPlan,
  t: number,
  from: SlotCandidates,
  to: SlotCandidates,
  a: SlotCandidates['pitches'][number],
  b: SlotCandidates['pitches'][number],
  target: SlotCandidates | undefined,
): StepSense | null {
  const size = Math.abs(b - a);
  if (plan.byStep[t] && (size === 0 || size > 2)) return null;
  const speaking = plan.speaks[t + 1];
  const speaks =
    !!speaking &&
    t + 1 > speaking[0] &&
    (isPart(to.slot.harmony, b, speaking[2]) ||
      (t === speaking[0] && isPart(from.slot.harmony, a, speaking[2])));
  const change = plan.led[t];
  if (!change || !target) return { ways: everyWay, speaks };
  let ways = 0;
  change.ways.forEach((way, bit) => {
    const at = t - way.first;
    const fits =
      at < 0 ||
      (way.steps[at]!.has(b - a) &&
        fitsWay(way, from.slot, target.slot, a) &&
        (t + 1 < change.target || isTargetOf(way, to.slot, b)));
    if (fits) ways |= 1 << bit;
  });
  return ways === 0 ? null : { ways, speaks };
}

/** At a change, led into by one of the ways that are open. */
function arrived(plan: LayerPlan, { ways }: LedChange, done: Done, open: number): Done | null {
  const way = ways.find((_, bit) => (open & (1 << bit)) !== 0)!;
  const kind = plan.alike?.(way.device) ?? null;
  if (kind !== null && kind === done.before) return null;
  return { ...nothingDone, before: kind };
}

/** The state after a step from slot t; null where the step may not be made. */
function advanced(plan: LayerPlan, t: number, done: Done, { ways, speaks }: StepSense): Done | null {
  const speaking = plan.speaks[t + 1];
  const heard = !!speaking && t + 1 > speaking[0];
  const spoken = heard && (done.spoken || speaks);
  if (heard && t + 1 === speaking[1] && !spoken) return null;
  const next: Done = {
    spoken: spoken && t + 1 !== speaking?.[1],
    before: plan.forgetsAt.has(t + 1) ? null : done.before,
    open: -1,
  };
  const change = plan.led[t];
  if (!change) return next;
  const open = (t === change.first || done.open === -1 ? everyWay : done.open) & ways;
  if (open === 0) return null;
  if (t + 1 < change.target) return { ...next, open };
  return arrived(plan, change, done, open);
}

/** The states of one slot, numbered as they are met. */
class States {
  readonly memory: number[] = [];
  readonly done: Done[] = [];
  readonly #numbers = new Map<string, number>();

  numberOf(memory: number, done: Done): number {
    const key = `${memory} ${done.spoken ? 1 : 0} ${done.open} ${done.before ?? ''}`;
    const found = this.#numbers.get(key);
    if (found !== undefined) return found;
    this.#numbers.set(key, this.memory.length);
    this.done.push(done);
    return this.memory.push(memory) - 1;
  }
}

/** A rule of the product, by state of its slot, before the number of states is known. */
interface Made {
  readonly next: number[];
  readonly costs: number[];
}

interface MadeSlot {
  readonly stepCosts: Int32Array;
  readonly ruleOf: Uint16Array;
  readonly made: readonly Made[];
  readonly rows: number;
}

function composed(
  plan: LayerPlan,
  t: number,
  rule: StepRule,
  sense: StepSense,
  from: States,
  to: States,
): Made {
  const next: number[] = [];
  const costs: number[] = [];
  from.memory.forEach((memory, state) => {
    const cost = rule.costs[memory]!;
    const done = cost < barrier ? advanced(plan, t, from.done[state]!, sense) : null;
    next.push(done ? to.numberOf(rule.next[memory]!, done) : 0);
    costs.push(done ? cost : infinite);
  });
  return { next, costs };
}

function makeSlot(
  plan: LayerPlan,
  t: number,
  slot: LatticeSlot,
  candidates: readonly SlotCandidates[],
  from: States,
  to: States,
): MadeSlot {
  const [one, next] = [candidates[t]!, candidates[t + 1]!];
  const change = plan.led[t];
  const target = change ? candidates[change.target] : undefined;
  const stepCosts = slot.stepCosts.slice();
  const ruleOf = new Uint16Array(slot.ruleOf.length);
  const made: Made[] = [];
  const numbers = new Map<string, number>();
  let index = -1;
  for (const a of one.pitches) {
    for (const b of next.pitches) {
      index++;
      if (stepCosts[index]! >= barrier) continue;
      const sense = senseOf(plan, t, one, next, a, b, target);
      if (!sense) {
        stepCosts[index] = infinite;
        continue;
      }
      const key = `${slot.ruleOf[index]} ${sense.ways} ${sense.speaks}`;
      let number = numbers.get(key);
      if (number === undefined) {
        number = made.push(composed(plan, t, slot.rules[slot.ruleOf[index]!]!, sense, from, to)) - 1;
        numbers.set(key, number);
      }
      ruleOf[index] = number;
    }
  }
  return { stepCosts, ruleOf, made, rows: from.memory.length };
}

const filled = ({ next, costs }: Made, count: number): StepRule => {
  const rule = { next: new Uint16Array(count), costs: new Int32Array(count).fill(infinite) };
  rule.next.set(next);
  rule.costs.set(costs);
  return rule;
};

/** True when single notes and steps say all that the layer asks, and nothing has to be remembered. */
const remembersNothing = ({ led, speaks, byStep }: LayerPlan): boolean =>
  led.every((one) => one === null) && speaks.every((one) => one === null) && !byStep.includes(true);

/** @param candidates those the lattice was built over, slot by slot, the return to the top included where there is one */
export function layeredLattice(
  lattice: Lattice,
  candidates: readonly SlotCandidates[],
  plan: LayerPlan,
): Lattice {
  const { slots, placementCount, vectors } = lattice;
  if (remembersNothing(plan)) return lattice;
  let states = new States();
  states.numberOf(lattice.startMemory, nothingDone);
  const made: MadeSlot[] = [];
  for (let t = 0; t + 1 < slots.length; t++) {
    const after = new States();
    made.push(makeSlot(plan, t, slots[t]!, candidates, states, after));
    states = after;
  }
  const memoryCount = Math.max(1, states.memory.length, ...made.map(({ rows }) => rows));
  return {
    slots: slots.map((slot, t) => {
      const own = made[t];
      if (!own) return { ...slot, memoryRows: Math.max(1, states.memory.length) };
      const rules = own.made.map((one) => filled(one, memoryCount));
      return {
        ...slot,
        stepCosts: own.stepCosts,
        ruleOf: own.ruleOf,
        rules,
        memoryRows: Math.max(1, own.rows),
      };
    }),
    placementCount,
    memoryCount,
    startMemory: 0,
    vectors,
  };
}
