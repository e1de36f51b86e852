// A lesson: a layer on a ground, fully fingered. With a line before it, one change at a time; without, the best line there is.
//
// Pre: a request as for a walk; pins, kept notes and shares are left aside. Post: a line that holds every rule of the layer
// and lies where the ground says, or why there is none. The rules of every line hold as long as a line of the layer can have
// them (as in pipeline.ts). With a line before: the fewest notes other than there, exactly (fewest.ts); a layer that is
// drawn as people play, or asks for figures, is counted only against it.
import type { Problem, Chart } from '../1-chart';
import { goesRound, isOrnament, makeTimeline, type Timeline } from '../2-timeline';
import type { SlotCandidates } from '../3-candidates';
import type { Path } from '../4-solver';
import { makeLine, type Line, type LineNote } from '../5-line';
import { placeKept } from '../problem/kept-bars';
import { chartOf, timelineWish } from '../pipeline';
import { emptyCaches, type Caches, type ProblemInstance } from '../problem/instance';
import { choosePath } from '../choice/take';
import type { Impossible, WalkRequest } from '../types';
import type { Before } from './exact-values';
import { fewestChanges } from './fewest';
import { groundOf } from './grounds';
import type { GroundId, LayerId } from './ids';
import { explainLesson, noFigures } from './impossible';
import { layerOf, ruleIn } from './layers';
import { planOf } from './plan';
import { isDrawn, lessonRequest, lessonInstance } from './instance';
import { leastOnNeck, type LessonOnNeck } from './neck';
import { searchNeck, type Chosen } from '../choice/neck-search';

export interface LessonWish {
  readonly layer: LayerId;
  readonly ground: GroundId;
}

/** What became otherwise from the line before. */
export interface LessonChanges {
  /** Indices of notes that the line before has not at the same moment. */
  readonly notes: readonly number[];
  /** Indices of notes that it has, held by another finger or on another string. */
  readonly fingers: readonly number[];
}

export interface Lesson extends LessonWish {
  readonly chart: Chart;
  readonly problems: readonly Problem[];
  /** Null when nothing in the chart can be played. */
  readonly timeline: Timeline | null;
  readonly line: Line | null;
  readonly impossible: Impossible | null;
  /** Null where there is no line, or none before it. */
  readonly changes: LessonChanges | null;
  /**
   * Thousandths that the line may cost more than the least there is; 0 where it is the least. Null where it is a take, which
   * has no least.
   */
  readonly over: number | null;
}

const isHeldAs = (one: LineNote['placement'], other: LineNote['placement']): boolean =>
  one.string === other.string && one.stop === other.stop && one.finger === other.finger;

/** Notes of a line by the tick they begin on. */
const byTick = (line: Line): ReadonlyMap<number, LineNote> =>
  new Map(line.notes.map((note) => [note.tick, note]));

/** What a line has otherwise than another. */
export function changesFrom(before: Line, line: Line): LessonChanges {
  const known = byTick(before);
  const same = (note: LineNote): LineNote | undefined => {
    const other = known.get(note.tick);
    return other?.midi === note.midi ? other : undefined;
  };
  return {
    notes: line.notes.flatMap((note) => (same(note) ? [] : [note.index])),
    fingers: line.notes.flatMap((note) => {
      const other = same(note);
      return other && !isHeldAs(note.placement, other.placement) ? [note.index] : [];
    }),
  };
}

function beforeAt(before: Line, timeline: Timeline, candidates: readonly SlotCandidates[]): Before {
  const known = byTick(before);
  return timeline.slots.map(({ tick }, t) => {
    const note = known.get(tick);
    if (!note) return null;
    const { placements } = candidates[t]!;
    return { midi: note.midi, isHeldAlike: (placement) => isHeldAs(note.placement, placements[placement]!) };
  });
}

/** Nothing is kept from a line that was shown. */
const noBars = placeKept([], []);

const hasFigure = ({ slots }: Timeline): boolean =>
  slots.some(({ articulation }) => isOrnament(articulation));

/** Seeds that are tried until a chart has a figure at all. */
const mostSeeds = 16;

function timelineFor(
  request: WalkRequest,
  chart: Chart,
  needsFigures: boolean,
): ReturnType<typeof makeTimeline> {
  const made = makeTimeline(chart, timelineWish(request));
  if (!needsFigures || !made.timeline) return made;
  for (let more = 0; more < mostSeeds; more++) {
    const take = { ...request.take, seed: request.take.seed + more };
    const tried = makeTimeline(chart, timelineWish({ ...request, take }));
    if (tried.timeline && hasFigure(tried.timeline)) return tried;
  }
  return made;
}

/**
 * @param before the line that as little as possible is changed of; null for none
 * @param caches carried from lesson to lesson by whoever makes several
 */
export function makeLesson(
  asked: WalkRequest,
  wish: LessonWish,
  before: Line | null = null,
  caches: Caches = emptyCaches(),
): Lesson {
  const layer = layerOf(wish.layer);
  const ground = groundOf(wish.ground);
  const request = lessonRequest(asked, layer, ground);
  const { chart, problems } = chartOf(request);
  const needsFigures = ruleIn(layer, 'skips') !== undefined;
  const made = timelineFor(request, chart, needsFigures);
  const { timeline } = made;
  const nothing = (impossible: Impossible | null): Lesson => ({
    ...wish,
    chart,
    problems: [...problems, ...made.problems],
    timeline,
    line: null,
    impossible,
    changes: null,
    over: null,
  });
  if (!timeline) return nothing(null);
  if (needsFigures && !hasFigure(timeline)) return nothing(noFigures(layer));
  const plan = planOf(layer, timeline, goesRound(request.ending));
  const drawn = isDrawn(layer);
  const draw = (instance: ProblemInstance): Path | null =>
    choosePath(instance, request.take, timeline, noBars);
  const choose = (instance: ProblemInstance): LessonOnNeck | null | undefined => {
    const known = before && !drawn ? beforeAt(before, timeline, instance.candidates) : null;
    const one = (of: ProblemInstance): Chosen | null => {
      if (known) return fewestChanges(of.lattice, known);
      const path = draw(of);
      return path && { path, changed: 0 };
    };
    if (!ground.least) {
      const chosen = one(instance);
      return chosen && { path: chosen.path, over: 0 };
    }
    const { least } = ground;
    const search = (): Path | null => searchNeck(instance, least, one)?.path ?? null;
    if (!drawn || request.take.temperature === 0) return leastOnNeck(instance, least, known, search);
    const path = search();
    return path && { path, over: 0 };
  };
  /** Whether it is known that there is no line, where there is none. */
  let isProven = true;
  const solve = (isStrict: boolean): Pick<Lesson, 'line' | 'over'> | null => {
    const instance = lessonInstance(request, timeline, plan, ground, caches, isStrict);
    const chosen = instance && choose(instance);
    if (chosen === undefined || (drawn && ground.least)) isProven = false;
    if (!instance || !chosen) return null;
    const line = makeLine(instance.candidates, chosen.path, timeline.slots.length, instance.model);
    return { line, over: drawn && request.take.temperature > 0 ? null : chosen.over };
  };
  const solved = solve(true) ?? solve(false);
  if (!solved?.line) return nothing(explainLesson(request, timeline, layer, ground, isProven));
  const { line, over } = solved;
  return { ...nothing(null), line, over, changes: before && changesFrom(before, line) };
}
