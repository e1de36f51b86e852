// A line shown in place of the study's own: the next take before its answer is here, another key, a lesson, or a take that
// was drawn beside the study.
import type { WalkResult } from '../pipeline';
import type { ShownLine } from './edits';

/** Where a take is lent that was drawn beside the study: to the player alone, or to the sheet. */
export type TakePlace = 'heard' | 'laid';

/**
 * A take: the study's own line takes its place once it is found. The others stay until they are given back: a key, a lesson,
 * and takes drawn beside the study, heard or laid on the sheet. A lesson and what is laid give way to every change of the
 * study, too.
 */
export type LentKind = 'take' | 'key' | 'lesson' | TakePlace;

interface Lent {
  readonly result: WalkResult;
  readonly shown: ShownLine;
  readonly kind: LentKind;
  /** What was lent before a take was heard or laid. */
  readonly under: Lent | null;
}

export class LentLine {
  #lent = $state.raw<Lent | null>(null);

  get isThere(): boolean {
    return this.#lent !== null;
  }
  get kind(): LentKind | null {
    return this.#lent?.kind ?? null;
  }
  get result(): WalkResult | null {
    return this.#lent?.result ?? null;
  }
  get shown(): ShownLine | null {
    return this.#lent?.shown ?? null;
  }

  /** A result without a line lends none, and gives back what was lent. */
  lend(result: WalkResult | null, kind: LentKind): void {
    this.#put(result, kind, null);
  }
  giveBack(): void {
    this.#lent = null;
  }

  /** Lends a take that was drawn beside the study, over what is lent already; null gives that back. */
  lay(result: WalkResult | null, place: TakePlace): void {
    const lent = this.#lent;
    const isLaid = lent?.kind === 'heard' || lent?.kind === 'laid';
    const under = isLaid ? lent.under : lent;
    if (result) this.#put(result, place, under);
    else if (isLaid) this.#lent = under;
  }

  #put(result: WalkResult | null, kind: LentKind, under: Lent | null): void {
    const timeline = result?.timeline;
    const line = result?.line;
    this.#lent = result && timeline && line ? { result, shown: { timeline, line }, kind, under } : null;
  }
}
