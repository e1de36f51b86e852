// Why a layer has no line on a ground: the smallest set of its rules, of the ground and of the player's limits that cannot
// hold together, the first bar where they meet, and the note that is missing there.
import type { HandPosition } from '../../instrument';
import { nameOfPitchClass, numberOfBar, pitchClass, type SoundingMidi } from '../../music';
import { goesRound, type Timeline, type TimelineChord } from '../2-timeline';
import { hardestWords, stayWords, type Wish } from '../3-candidates';
import { barrier, bestPath, forwardMessages, type Lattice } from '../4-solver';
import { minimalConflict } from '../problem/conflict';
import { candidatesUnder, emptyCaches, requestWishes, type ProblemInstance } from '../problem/instance';
import { listedBy } from '../problem/listed';
import type { Impossible, WalkRequest } from '../types';
import type { Ground } from './grounds';
import type { Layer } from './layers';
import { isPart } from './parts';
import { planOf, type LayerPlan, type RuleKind } from './plan';
import { ruleWords } from './rule-words';
import { layerWishes, lessonInstance } from './instance';

/** Nothing to be given up. */
const none: Pick<Impossible, 'freeing' | 'conflict' | 'cheapest' | 'together'> = {
  freeing: [],
  conflict: [],
  cheapest: null,
  together: [],
};

/** One thing that could be given up. */
interface Part {
  readonly wish: Wish;
  readonly kind: 'mask' | 'stay' | 'hardest' | 'shifts' | 'rule';
  readonly rule?: RuleKind;
}

const limitPart = (kind: Part['kind'], words: string, limit: 'stay' | 'hardest move' | 'place'): Part => ({
  kind,
  wish: { words, source: { kind: 'limit', limit }, allows: () => true },
});

function partsOf(request: WalkRequest, layer: Layer, ground: Ground): readonly Part[] {
  const { stay, hardest } = request.limits;
  const rules = [...new Set(layer.rules.map(({ rule }) => rule))].filter((rule) => rule !== 'skips');
  return [
    ...requestWishes(request).map((wish): Part => ({ kind: 'mask', wish })),
    ...(stay ? [limitPart('stay', stayWords(stay), 'stay')] : []),
    ...(hardest === undefined ? [] : [limitPart('hardest', hardestWords(hardest), 'hardest move')]),
    ...(ground.bareShifts ? [] : [limitPart('shifts', `${ground.name}: ${ground.says}`, 'place')]),
    ...rules.map((rule): Part => ({
      kind: 'rule',
      rule,
      wish: {
        words: ruleWords(layer, rule),
        source: { kind: 'limit', limit: 'layer' },
        allows: () => true,
      },
    })),
  ];
}

/** What is left to play under some of the parts: the instance is null where a slot has nothing. */
interface Under {
  readonly plan: LayerPlan;
  readonly instance: ProblemInstance | null;
  readonly wishes: readonly Wish[];
}

const has = (parts: readonly Part[], kind: Part['kind']): boolean => parts.some((part) => part.kind === kind);

function under(request: WalkRequest, timeline: Timeline, layer: Layer, parts: readonly Part[]): Under {
  const { stay, hardest, ...masks } = request.limits;
  const limits = {
    ...masks,
    ...(stay && has(parts, 'stay') ? { stay } : {}),
    ...(hardest !== undefined && has(parts, 'hardest') ? { hardest } : {}),
  };
  const rules = new Set(parts.map(({ rule }) => rule));
  const plan = planOf(layer, timeline, goesRound(request.ending), (rule) => rules.has(rule));
  const wishes = [
    ...parts.filter(({ kind }) => kind === 'mask').map(({ wish }) => wish),
    ...layerWishes(plan, request),
  ];
  const bareShifts = !has(parts, 'shifts');
  const instance = lessonInstance(
    { ...request, limits },
    timeline,
    plan,
    { bareShifts },
    emptyCaches(),
    false,
    wishes,
  );
  return { plan, instance, wishes };
}

const isPossible = ({ instance }: Under): boolean => instance !== null && bestPath(instance.lattice) !== null;

/** The first slot that no path comes to. */
function firstBlocked(lattice: Lattice): number {
  const forward = forwardMessages(lattice);
  return lattice.slots.findIndex((_, t) => forward.at(t).every((sum) => sum >= barrier));
}

const oneOfEach = Array.from({ length: 12 }, (_, one) => (36 + one) as SoundingMidi);

const namesUnder = (allows: (midi: SoundingMidi) => boolean): readonly string[] =>
  oneOfEach.filter(allows).map((midi) => nameOfPitchClass(pitchClass(midi), false));

/** The notes that the layer asks for at a slot, by name: where its rules leave none together, those of the first. */
function namesOf({ demands, speaks }: LayerPlan, slot: number, harmony: TimelineChord): readonly string[] {
  const own = demands[slot] ?? [];
  const speaking = speaks[slot];
  const isHeard = (midi: SoundingMidi): boolean =>
    !speaking || slot < speaking[1] || isPart(harmony, midi, speaking[2]);
  if (own.length === 0 && !speaking) return [];
  const together = namesUnder((midi) => isHeard(midi) && own.every(({ allows }) => allows(midi)));
  return together.length > 0 ? together : namesUnder((midi) => own[0]?.allows(midi) ?? isHeard(midi));
}

/** Where it fails, and which note is missing there. */
function placeOf(request: WalkRequest, timeline: Timeline, layer: Layer, parts: readonly Part[]): string {
  const failing = failingSlot(request, timeline, layer, parts);
  if (failing === null) return '';
  const { slot, plan } = failing;
  const isTop = slot === timeline.slots.length;
  const { bar, beat } = timeline.slots[isTop ? 0 : slot]!;
  const place = `${isTop ? 'Back at the top, bar' : 'Bar'} ${numberOfBar(bar)}, beat ${beat}`;
  const names = namesOf(plan, slot, timeline.slots[isTop ? 0 : slot]!.harmony);
  if (names.length === 0 || names.length === 12) return ` ${place} has no note left.`;
  return ` ${place} has no note left: ${layer.name} asks for ${listedBy(names, 'or')} there.`;
}

interface Failing {
  readonly slot: number;
  readonly plan: LayerPlan;
}

function failingSlot(
  request: WalkRequest,
  timeline: Timeline,
  layer: Layer,
  parts: readonly Part[],
): Failing | null {
  const whole = under(request, timeline, layer, parts);
  if (whole.instance) return { slot: firstBlocked(whole.instance.lattice), plan: whole.plan };
  // A slot has nothing under all masks together: the first one that has nothing by itself.
  const { candidates } = candidatesUnder(request, timeline, whole.wishes, undefined);
  const slot = candidates.findIndex(({ placements }) => placements.length === 0);
  return slot < 0 ? null : { slot, plan: whole.plan };
}

/**
 * @param request that of the lesson
 * @param isProven whether it is known that no line has the shares of the ground, where all else can hold
 */
export function explainLesson(
  request: WalkRequest,
  timeline: Timeline,
  layer: Layer,
  ground: Ground,
  isProven = true,
): Impossible {
  const all = partsOf(request, layer, ground);
  const possibleWith = (parts: readonly Part[]): boolean =>
    isPossible(under(request, timeline, layer, parts));
  if (possibleWith(all)) {
    const share = Math.round((ground.least?.share ?? 0) * 100);
    const regions = listedBy(ground.least?.regions ?? [], 'and');
    return {
      ...none,
      message: `${layer.name} on ${ground.name}: ${isProven ? 'no line gives' : 'no line was found that gives'} ${regions} at least ${share} % of the stopped beats each.`,
    };
  }
  const kept = minimalConflict(all, possibleWith);
  const place = placeOf(request, timeline, layer, kept);
  if (kept.length === 0)
    return {
      ...none,
      message: `A hand of ${request.hand.span} mm cannot hold the notes of these changes on this bass.${place}`,
    };
  const freeing = kept.flatMap(({ wish: { source } }): HandPosition[] =>
    source.kind === 'limit' &&
    source.position !== undefined &&
    possibleWith(all.filter((one) => one.wish.source !== source))
      ? [source.position]
      : [],
  );
  const verdict = kept.length > 1 ? 'These wishes cannot hold together' : 'This wish cannot be met';
  const words = listedBy(
    kept.map(({ wish }) => wish.words.replace(/\.$/, '')),
    'and',
  );
  return {
    message: `${verdict}: ${words}.${place}`,
    freeing,
    conflict: kept.map(({ wish: { words: said, source } }) => ({ words: said, source })),
    cheapest: null,
    together: [],
  };
}

/** No figure has room in a chart. */
export const noFigures = (layer: Layer): Impossible => ({
  message: `${layer.name}: no beat of this chart has room for a dead note or another figure.`,
  ...none,
});
