// A layer on a ground as what the solver works on: the candidates under both, and the lattice that holds the layer.
import { isOpenString } from '../../instrument';
import { walkingRange } from '../problem/range';
import { makeInstance, requestWishes, type Caches, type ProblemInstance } from '../problem/instance';
import type { Timeline } from '../2-timeline';
import type { SlotCandidates, Wish } from '../3-candidates';
import type { Lattice } from '../4-solver';
import type { WalkRequest } from '../types';
import type { SoundingMidi } from '../../music';
import { layeredLattice } from './automaton';
import type { Ground } from './grounds';
import { ruleIn, type Layer } from './layers';
import type { Demand, LayerPlan } from './plan';
import { ruleWords } from './rule-words';
import { withoutBareShifts } from './shifts';

/** The request of a lesson: pins and notes shown before are left aside, and so are shares: the ground says where the hand lives. */
export function lessonRequest(request: WalkRequest, layer: Layer, ground: Ground): WalkRequest {
  const isFree = isDrawn(layer);
  const place = ground.id === 'anywhere' ? {} : { place: ground.place };
  return {
    ...request,
    pins: [],
    kept: [],
    limits: { ...request.limits, ...place, shares: [], spread: 0, prices: [] },
    density: ruleIn(layer, 'skips')?.density ?? (isFree ? (request.density ?? 0) : 0),
    // What the line is wished to be like belongs to lines that are drawn.
    wishes: isFree ? (request.wishes ?? {}) : {},
    take: { seed: request.take.seed, temperature: isFree ? request.take.temperature : 0 },
  };
}

/** True of the layer that asks for nothing: its line is a take, as people play. */
export const isDrawn = ({ rules }: Pick<Layer, 'rules'>): boolean =>
  rules.every((one) => one.rule === 'notes' && one.are === 'all');

/** What the rules ask of single notes, one wish a rule, so that a conflict can name it. */
export function layerWishes({ layer, demands }: LayerPlan, request: WalkRequest): readonly Wish[] {
  const { lowest, highest } = walkingRange(request.instrument);
  const range: SoundingMidi[] = [];
  for (let midi = lowest; midi <= highest; midi = (midi + 1) as SoundingMidi) range.push(midi);
  const known = new Map<readonly Demand[], readonly SoundingMidi[] | undefined>();
  const offered = (own: readonly Demand[]): readonly SoundingMidi[] | undefined => {
    if (known.has(own)) return known.get(own);
    const made = own.some(({ offers }) => offers)
      ? range.filter((midi) => own.every(({ allows }) => allows(midi)))
      : undefined;
    known.set(own, made);
    return made;
  };
  const kinds = [...new Set(demands.flat().map(({ rule }) => rule))];
  return kinds.map((rule, index): Wish => ({
    words: ruleWords(layer, rule),
    source: { kind: 'limit', limit: 'layer' },
    allows: (placement, slot) =>
      demands[slot.index]!.every((one) => one.rule !== rule || one.allows(placement.midi)),
    ...(index === 0 ? { offers: (slot) => offered(demands[slot.index]!) } : {}),
  }));
}

/** What a dead note on a stopped string bears, so that skips fall on open strings where they can. */
const stoppedSkip = 400;

const skipsOnOpen = (lattice: Lattice, candidates: readonly SlotCandidates[]): Lattice => ({
  ...lattice,
  slots: lattice.slots.map((slot, t) => {
    const { slot: moment, placements } = candidates[t]!;
    if (moment.articulation !== 'ghost') return slot;
    const placementCosts = slot.placementCosts.map((cost, h) =>
      isOpenString(placements[h]!) ? cost : cost + stoppedSkip,
    );
    return { ...slot, placementCosts };
  }),
});

/** @param isStrict whether what the rules of every line never allow is left out */
export function lessonInstance(
  request: WalkRequest,
  timeline: Timeline,
  plan: LayerPlan,
  ground: Pick<Ground, 'bareShifts'>,
  caches: Caches,
  isStrict: boolean,
  wishes: readonly Wish[] = [...requestWishes(request), ...layerWishes(plan, request)],
): ProblemInstance | null {
  const instance = makeInstance(request, timeline, wishes, request.limits.stay, caches, isStrict);
  if (!instance) return null;
  const { candidates, model } = instance;
  const moved = ground.bareShifts ? instance.lattice : withoutBareShifts(instance.lattice, candidates, model);
  const layered = layeredLattice(moved, candidates, plan);
  const lattice = ruleIn(plan.layer, 'skips') ? skipsOnOpen(layered, candidates) : layered;
  return { ...instance, lattice };
}
