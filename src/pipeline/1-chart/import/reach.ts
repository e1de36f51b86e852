// How far the ending brackets of a file reach. A page closes its brackets where there is room for them; what is meant follows
// from the repeat signs, as in a chart text.
import { repeatsInsideEnding } from '../brackets';
import type { ChartBar } from '../types';
import type { ImportProblems } from './problems';
import type { SketchBar } from './sketch';

/** What is settled of a bar. */
export type BarEnding = Pick<ChartBar, 'ending' | 'repeatStart'>;

/** What ends the bars after a bracket first: a sign that the ending goes on to, or one that it does not reach. */
function nextSign(
  sketches: readonly SketchBar[],
  from: number,
  passes: readonly number[],
): 'repeat sign' | 'next ending' | 'nothing' {
  const isFirst = passes.includes(1);
  for (let index = from + 1; index < sketches.length; index += 1) {
    const { section, repeatStart, opensEnding, repeatEnd } = sketches[index]!;
    if (section !== null) return 'nothing';
    if (opensEnding !== null) {
      const isAnother = opensEnding.includes(1) && opensEnding.join() !== passes.join();
      return isAnother ? 'nothing' : 'next ending';
    }
    if (repeatStart) return 'nothing';
    // Only a first ending goes on over a double bar line.
    if (!isFirst && sketches[index - 1]!.doubleBar) return 'nothing';
    if (repeatEnd) return 'repeat sign';
  }
  return 'nothing';
}

class Brackets {
  readonly settled: { ending: BarEnding['ending']; repeatStart: boolean; repeatEnd: number | null }[] = [];
  private passes: readonly number[] | null = null;
  /** First bar of a repeat that was opened under the bracket and not closed yet; null when none was. */
  private repeatInside: number | null = null;
  /** The repeat sign to come goes back to the next bar. */
  private opensNext = false;

  constructor(
    private readonly sketches: readonly SketchBar[],
    private readonly problems: ImportProblems,
  ) {}

  take(index: number): void {
    const sketch = this.sketches[index]!;
    if (sketch.section !== null) this.passes = null;
    const opens = this.opens(sketch, index);
    const bar = {
      ending: this.passes,
      repeatStart: sketch.repeatStart || this.opensNext,
      repeatEnd: sketch.repeatEnd ? 2 : null,
    };
    this.settled.push(bar);
    this.opensNext = false;
    if (sketch.section !== null || opens) this.repeatInside = null;
    if (bar.repeatStart && this.passes !== null) {
      this.repeatInside = !opens || repeatsInsideEnding(this.settled, index) ? index : null;
    }
    if (sketch.repeatEnd) {
      if (this.repeatInside === null) this.passes = null;
      this.repeatInside = null;
    } else if (sketch.endingStops !== null) this.stop(index, sketch.endingStops);
  }

  /** True when an ending begins here. */
  private opens({ opensEnding, span, number }: SketchBar, index: number): boolean {
    if (opensEnding === null) return false;
    // A repeat that has a first ending of its own was not inside the ending before, which nothing had closed.
    if (this.repeatInside !== null && opensEnding.includes(1)) {
      for (const bar of this.settled.slice(this.repeatInside)) bar.ending = null;
      this.passes = null;
    }
    if (this.passes?.join() === opensEnding.join()) return false;
    // Closed and opened again for the same passes: the first of the two is the one that is played.
    if (this.settled[index - 1]?.ending?.join() === opensEnding.join()) {
      this.problems.add('ending-twice', span, { bar: number });
      this.passes = null;
      return false;
    }
    this.passes = opensEnding;
    return true;
  }

  private stop(index: number, how: 'closed' | 'open'): void {
    if (this.passes === null) return;
    const isFirst = this.passes.includes(1);
    const next = nextSign(this.sketches, index, this.passes);
    if (next === 'next ending' || (next === 'repeat sign' && (isFirst || how === 'open'))) return;
    // The repeat after a closed last ending is one of its own.
    this.opensNext = next === 'repeat sign';
    this.passes = null;
  }
}

/**
 * The ending of every bar, and where repeats begin. Bars between the end of a first bracket and its repeat sign, or the next
 * ending, belong to the first ending (common practice, no source).
 */
export function endingsOf(sketches: readonly SketchBar[], problems: ImportProblems): readonly BarEnding[] {
  const brackets = new Brackets(sketches, problems);
  sketches.forEach((_, index) => brackets.take(index));
  return brackets.settled.map(({ ending, repeatStart }) => ({ ending, repeatStart }));
}
