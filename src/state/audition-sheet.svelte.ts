// Two takes drawn beside the study, one of them on the sheet and the other laid over it. The study is left as it is; every
// change of it, and leaving, gives its line back.
import type { KeptBar, PlainSettings, WalkResult } from '../pipeline';
import type { Beside } from './beside.svelte';
import type { ShownLine } from './edits';
import type { Studio } from './studio.svelte';

/** A take that can be laid on the sheet. */
export interface LaidTake {
  readonly seed: number;
  readonly result: WalkResult;
  readonly shown: ShownLine;
  readonly kept: readonly KeptBar[];
  readonly drawnAs: Partial<PlainSettings>;
}

export interface LaidPair {
  readonly mine: LaidTake;
  readonly other: LaidTake;
}

export class AuditionSheet {
  readonly #studio: Pick<Studio, 'isLaid' | 'showTake' | 'useTake'>;
  readonly #beside: Pick<Beside, 'layDrawn' | 'close'>;
  #pair: LaidPair | null = $state.raw(null);

  constructor(
    studio: Pick<Studio, 'isLaid' | 'showTake' | 'useTake'>,
    beside: Pick<Beside, 'layDrawn' | 'close'>,
  ) {
    this.#studio = studio;
    this.#beside = beside;
  }

  /** What lies on the sheet; null when the study's own line does. */
  get open(): LaidPair | null {
    return this.#studio.isLaid ? this.#pair : null;
  }

  lay(pair: LaidPair): void {
    this.#pair = pair;
    this.#studio.showTake(pair.mine.result, 'laid');
    this.#beside.layDrawn(pair.other.seed, pair.other.shown);
  }

  /** The other take comes to the top. */
  swap(): void {
    const pair = this.#pair;
    if (pair) this.lay({ mine: pair.other, other: pair.mine });
  }

  /** Gives the study's line back; nothing where a take does not lie on it. */
  leave(): void {
    if (!this.open) return;
    this.#beside.close();
    this.#studio.showTake(null, 'laid');
    this.#pair = null;
  }

  /** Makes the take on top the study's own. */
  use(): void {
    const mine = this.open?.mine;
    this.leave();
    if (mine) this.#studio.useTake(mine, mine.drawnAs);
  }
}
