// The whole computation: chart text -> chart -> timeline -> candidates -> lattice -> path -> line.
import { readChart, transposeChart, type Chart, type Problem } from './1-chart';
import { makeTimeline } from './2-timeline';
import type { Path } from './4-solver';
import { makeLine } from './5-line';
import { explainImpossible } from './impossible';
import { makeSetting, requestWishes, type Setting } from './setting';
import { keepShares } from './shares';
import { choosePath } from './take';
import type { Impossible, WalkRequest, WalkResult } from './types';

/** Milliseconds by pass, added up. */
export type Clock = () => number;

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
  const choose = (from: Setting): Path | null =>
    choosePath(from, request.take, (bar) => timeline.bars[bar] ?? { chorus: -1, chartBar: -1 });
  const found = setting && timed('solve', () => keepShares(setting, request.limits.shares ?? [], choose));
  if (!setting || !found) return nothing(timed('conflict', () => explainImpossible(request, timeline)));
  const line = timed('line', () =>
    makeLine(setting.candidates, found.path, timeline.slots.length, setting.model),
  );
  return { chart, problems, timeline, line, impossible: null, timings };
}
