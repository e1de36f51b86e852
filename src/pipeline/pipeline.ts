// The whole computation: chart text -> chart -> timeline -> candidates -> lattice -> path -> line.
import { derivedSeed, seededRandom } from '../music';
import { allPlacements, type Placement } from '../instrument';
import { readChart, transposeChart, type Chart, type Problem } from './1-chart';
import { makeTimeline, type Slot, type Timeline } from './2-timeline';
import { findCandidates, type SlotCandidates } from './3-candidates';
import { bestPath, makeSampler, type Lattice, type Path } from './4-solver';
import { buildLattice, makeCostModel, makeLine, naturalUnit, type CostModel, type Line } from './5-line';
import { explainImpossible } from './impossible';
import { highestPosition, walkingRange } from './range';
import type { Impossible, TakeWish, WalkRequest, WalkResult } from './types';

/** Milliseconds by pass, added up. */
export type Clock = () => number;

/** Where the last slot leads: the first one again, its chord new. It shapes the end of the line and is not played. */
function withReturn(timeline: Timeline): readonly Slot[] {
  const first = timeline.slots[0]!;
  return [...timeline.slots, { ...first, index: timeline.slots.length, isChange: true }];
}

/** What the solver works on, with what is needed to read its answer. */
interface Setting {
  readonly candidates: readonly SlotCandidates[];
  readonly lattice: Lattice;
  readonly model: CostModel;
}

/** All placements that the limits leave. */
const allowedPlacements = (request: WalkRequest): readonly Placement[] =>
  allPlacements(request.instrument, request.hand, {
    highestPosition,
    barred: request.limits.barredPositions,
  });

function choosePath(lattice: Lattice, take: TakeWish): Path | null {
  if (take.temperature === 0) return bestPath(lattice)?.path ?? null;
  const sampler = makeSampler(lattice, take.temperature, naturalUnit);
  return sampler.draw(seededRandom(derivedSeed(take.seed, 0)));
}

/** Reads and, when another key is asked for, transposes. */
export function chartOf(request: Pick<WalkRequest, 'chartText' | 'key'>): {
  chart: Chart;
  problems: Problem[];
} {
  const { chart, problems } = readChart(request.chartText);
  const moved = request.key ? transposeChart(chart, request.key) : chart;
  return { chart: moved, problems: [...problems] };
}

/**
 * A line for a chart, with everything that is known about it. Never throws on any chart text: what could not be read is
 * among the problems, and where no line exists the result says why.
 *
 * @param clock milliseconds, for the timings; leave it out where nobody reads them
 */
export function walk(request: WalkRequest, clock: Clock = () => 0): WalkResult {
  const timings: Record<string, number> = {};
  const timed = <T>(name: string, pass: () => T): T => {
    const start = clock();
    const result = pass();
    timings[name] = (timings[name] ?? 0) + clock() - start;
    return result;
  };

  const { chart, problems } = timed('chart', () => chartOf(request));
  const made = timed('timeline', () =>
    makeTimeline(chart, { choruses: request.choruses, tempo: request.tempo }),
  );
  problems.push(...made.problems);
  const { timeline } = made;
  const nothing = (impossible: Impossible | null): WalkResult => ({
    chart,
    problems,
    timeline,
    line: null,
    impossible,
    timings,
  });
  if (!timeline || timeline.slots.length === 0) return nothing(null);

  const placements = allowedPlacements(request);
  const candidates = timed('candidates', () =>
    findCandidates(withReturn(timeline), placements, walkingRange(request.instrument)),
  );
  if (candidates.some((one) => one.placements.length === 0))
    return nothing(explainImpossible(request, candidates));

  const setting = timed('lattice', (): Setting => {
    const model = makeCostModel({ instrument: request.instrument, hand: request.hand }, timeline.tempo);
    return { candidates, model, lattice: buildLattice(candidates, placements, model) };
  });
  const path = timed('solve', () => choosePath(setting.lattice, request.take));
  if (!path) return nothing(explainImpossible(request, candidates));
  const line: Line = timed('line', () => makeLine(candidates, path, timeline.slots.length, setting.model));
  return { chart, problems, timeline, line, impossible: null, timings };
}
