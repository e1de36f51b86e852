// Endings and repeats, once all bars are there: how far each ending reaches, and how often each repeat is played.
import { goesOnUnder, repeatsInsideEnding } from './brackets';
import type { Diagnostics } from './diagnostics';
import type { Draft } from './draft';
import type { ChartBar } from './types';

const wholeText = { line: 1, column: 1, length: 1 };

/** A run of bars under one ending bracket. */
interface Run {
  readonly first: number;
  last: number;
  readonly passes: readonly number[];
}

function runsOf(bars: readonly ChartBar[]): readonly Run[] {
  const runs: Run[] = [];
  bars.forEach((bar, index) => {
    if (bar.ending === null) return;
    const run = runs.at(-1);
    if (run !== undefined && goesOnUnder(bars[index - 1], bar)) run.last = index;
    else runs.push({ first: index, last: index, passes: bar.ending });
  });
  return runs;
}

/**
 * How far an ending reaches that no other one follows. A first ending goes on to its repeat sign; any other to a double
 * bar line or a repeat that begins, whichever comes first, and without a repeat sign not past the end of its line.
 */
function trim(drafts: readonly Draft[], run: Run): void {
  const isClosed = drafts[run.last]!.bar.repeatEnd !== null;
  const isFirst = run.passes.includes(1);
  const opens = (index: number): boolean => drafts[index]!.bar.repeatStart;
  const hasOwnRepeat = drafts.slice(run.first + 1, run.last + 1).some(({ bar }) => bar.repeatStart);
  if (isClosed && isFirst && !hasOwnRepeat) return;
  const stopsAt = (index: number): boolean => {
    const { bar, lineEnd } = drafts[index]!;
    return bar.doubleBar || bar.repeatEnd !== null || opens(index + 1) || (!isClosed && lineEnd);
  };
  let end = run.first;
  while (end < run.last && !stopsAt(end)) end += 1;
  for (let index = end + 1; index <= run.last; index += 1) drafts[index]!.bar.ending = null;
  run.last = end;
}

/** Runs that follow one another are the endings of one repeat. */
function groupsOf(bars: readonly ChartBar[], runs: readonly Run[]): readonly (readonly Run[])[] {
  const groups: Run[][] = [];
  for (const run of runs) {
    const group = groups.at(-1);
    const before = group?.at(-1);
    const goesOn =
      before !== undefined &&
      before.last === run.first - 1 &&
      (!bars[run.first]!.repeatStart || repeatsInsideEnding(bars, run.first)) &&
      !run.passes.includes(1);
    if (goesOn) group!.push(run);
    else groups.push([run]);
  }
  return groups;
}

/** A single ending closed by a repeat sign is skipped on one pass more; else the highest number is the last pass. */
function passesOf(group: readonly Run[]): number {
  const named = group.flatMap(({ passes }) => passes).reduce((most, pass) => Math.max(most, pass), 1);
  return group.length === 1 ? named + 1 : named;
}

/** How often a repeat that closes under an ending is played when nothing else is said, by the index of its bar. */
export function usualPasses(bars: readonly ChartBar[]): ReadonlyMap<number, number> {
  const groups = groupsOf(bars, runsOf(bars));
  return new Map(groups.flatMap((group) => group.map(({ last }) => [last, passesOf(group)] as const)));
}

function countPasses(drafts: readonly Draft[], group: readonly Run[], problems: Diagnostics): void {
  const passes = group.flatMap((run) => run.passes);
  const total = passesOf(group);
  const span = drafts[group[0]!.first]!.bar.span ?? wholeText;
  const known = new Set(passes);
  if (known.size < passes.length) problems.add('ending-twice', span);
  const numbered = Array.from({ length: Math.max(...passes) }, (_, index) => index + 1);
  const missing = numbered.find((pass) => !known.has(pass));
  if (missing !== undefined) problems.add('ending-gap', span, { pass: missing });
  group.forEach((run, index) => {
    const { bar, times } = drafts[run.last]!;
    if (bar.repeatEnd !== null) bar.repeatEnd = Math.max(total, times ?? 0);
    else if (index < group.length - 1) {
      problems.add('ending-open', bar.span ?? wholeText);
      bar.repeatEnd = total;
    }
  });
}

/** Settles endings and repeat counts in place. */
export function settleEndings(drafts: readonly Draft[], problems: Diagnostics): void {
  for (const { bar, times } of drafts) if (bar.repeatEnd !== null) bar.repeatEnd = times ?? 2;
  const bars = drafts.map(({ bar }) => bar);
  const runs = runsOf(bars);
  runs.forEach((run, index) => {
    const next = runs[index + 1];
    const isFollowed = next?.first === run.last + 1 && !next.passes.includes(1);
    if (!isFollowed) trim(drafts, run);
  });
  for (const group of groupsOf(bars, runs)) countPasses(drafts, group, problems);
}
