// What the person has chosen of the line on show: a note, and bars to be played over and over.
import type { BarIndex } from '../music';
import type { Timeline } from '../pipeline';
import type { BarRange } from '../playback';
import type { ShownLine } from './edits';
import { extendRange, firstPlayed, fitRange, rangeWith } from './loop';

export class Chosen {
  #note = $state<number | null>(null);
  #bars = $state.raw<BarRange | null>(null);

  /** Index of the note, null when none is. */
  get note(): number | null {
    return this.#note;
  }
  get bars(): BarRange | null {
    return this.#bars;
  }

  /** The note at an index, or the nearest one that a line has. */
  takeNote(index: number | null, shown: ShownLine | null): void {
    const last = (shown?.line.notes.length ?? 0) - 1;
    this.#note = index === null || last < 0 ? null : Math.min(last, Math.max(0, index));
  }

  /** A click on a bar in playing order: see `extendRange`; `extend` takes all from the chosen bars to this one. */
  takeBar(bar: BarIndex, extend = false): void {
    this.#bars = extend && this.#bars ? rangeWith(this.#bars, bar) : extendRange(this.#bars, bar);
  }
  /** A click on a bar as written. */
  takeChartBar(chartBar: number, timeline: Timeline): void {
    const anchor = this.#bars?.from === this.#bars?.to ? this.#bars?.from : undefined;
    const bar =
      (anchor === undefined ? undefined : firstPlayed(timeline, chartBar, anchor)) ??
      firstPlayed(timeline, chartBar);
    if (bar !== undefined) this.takeBar(bar);
  }
  takeBars(range: BarRange | null, timeline: Timeline | undefined): void {
    this.#bars = fitRange(range, timeline?.bars.length ?? 0);
  }

  /** Goes on with what another line has of it. */
  fit(shown: ShownLine | null): void {
    this.takeNote(this.#note, shown);
    this.takeBars(this.#bars, shown?.timeline);
  }

  clear(): void {
    this.#note = null;
    this.#bars = null;
  }
}
