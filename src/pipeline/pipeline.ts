// The whole computation: chart text -> chart -> timeline -> candidates -> lattice -> path -> line.
import { derivedSeed, seededRandom } from '../music';
import { readChart, transposeChart, type Chart, type Problem } from './1-chart';
import { makeTimeline } from './2-timeline';
import { bestPath, makeSampler, type Lattice, type Path } from './4-solver';
import { makeLine, naturalUnit } from './5-line';
import { explainImpossible } from './impossible';
import { makeSetting, requestWishes } from './setting';
import type { Impossible, TakeWish, WalkRequest, WalkResult } from './types';

/** Milliseconds by pass, added up. */
export type Clock = () => number;

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

  const setting = timed('lattice', () => makeSetting(request, timeline, requestWishes(request)));
  const path = setting && timed('solve', () => choosePath(setting.lattice, request.take));
  if (!setting || !path) return nothing(timed('conflict', () => explainImpossible(request, timeline)));
  const line = timed('line', () => makeLine(setting.candidates, path, timeline.slots.length, setting.model));
  return { chart, problems, timeline, line, impossible: null, timings };
}
