// What can be done with bars: those that were chosen, else the bar of the note in focus.
import { numberOfBar, barsBetween } from '../music';
import type { BarRange } from '../playback';
import type { Focus } from './focus.svelte';
import type { Notices } from './notices.svelte';
import type { Studio } from './studio.svelte';

export interface BarActsParts {
  readonly studio: Studio;
  readonly focus: Pick<Focus, 'index'>;
  readonly notices: Pick<Notices, 'show'>;
}

export class BarActs {
  readonly #parts: BarActsParts;

  constructor(parts: BarActsParts) {
    this.#parts = parts;
  }

  /** In playing order from 0; null when there is no line. */
  get range(): BarRange | null {
    const { studio, focus } = this.#parts;
    if (studio.bars) return studio.bars;
    const note = focus.index === null ? undefined : studio.shown?.line.notes[focus.index];
    return note ? { from: note.slot.bar, to: note.slot.bar } : null;
  }

  /** True when all of these bars stay as they are. */
  get isKept(): boolean {
    const { range } = this;
    const { locked } = this.#parts.studio;
    if (!range) return false;
    return barsBetween(range.from, range.to).every((bar) => locked.includes(numberOfBar(bar)));
  }

  /** Draws other notes; says so when all of the bars are kept. */
  redraw(): void {
    const { studio, notices } = this.#parts;
    const { range } = this;
    if (range && !studio.redraw(range) && this.isKept) notices.show({ code: 'all locked' });
  }

  toggleKept(): void {
    if (this.range) this.#parts.studio.toggleLocked(this.range);
  }
}
