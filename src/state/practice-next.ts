// The line of the next pass, worked out while this one plays, so that it is there when the music comes round.
import type { Line, Timeline, WalkResult } from '../pipeline';
import type { Study } from './document';
import { fourthUp } from './practice';
import { requestOf } from './request';
import type { Asker, Connect } from './asking';

/** A study as the next pass plays it, with its line. */
export interface Prepared {
  readonly study: Study;
  readonly result: WalkResult;
  readonly line: Line;
  readonly timeline: Timeline;
}

/** Keys tried before the present one is kept: all others. */
const mostKeys = 11;

export class NextPass {
  readonly #asker: Asker<'walk'>;
  readonly #onready: (prepared: Prepared | null) => void;
  #wanted: Study | null = null;
  /** What was wanted before limits ruled out its key, as text to compare by; null when nothing is. */
  #origin: string | null = null;
  #ready: Prepared | null = null;
  #tries = 0;

  /** `onready` is told each line as it is found, and null when it no longer holds. */
  constructor(connect: Connect<'walk'>, onready: (prepared: Prepared | null) => void) {
    this.#onready = onready;
    this.#asker = connect(
      ({ answer, isLatest }) => {
        if (isLatest) this.#receive(answer);
      },
      // Without a line for it the next pass plays what this one plays.
      () => undefined,
    );
  }

  /** Asks for a study's line; the same study is not asked for twice. Null wants nothing any more. */
  want(study: Study | null): void {
    const origin = study && JSON.stringify(requestOf(study));
    if (origin === this.#origin) return;
    this.#origin = origin;
    this.#tries = 0;
    if (this.#ready) this.#onready(null);
    this.#ready = null;
    this.#ask(study);
  }

  /** The line that plays from now on; null when none was ready. */
  take(): Prepared | null {
    const ready = this.#ready;
    this.#ready = null;
    this.#origin = null;
    this.#wanted = null;
    return ready;
  }

  #ask(study: Study | null): void {
    this.#wanted = study;
    if (study) this.#asker.request(requestOf(study));
  }

  #receive(result: WalkResult): void {
    const study = this.#wanted;
    if (!study) return;
    const { line, timeline } = result;
    if (line && timeline) {
      this.#ready = { study, result, line, timeline };
      this.#onready(this.#ready);
    } else if (study.key && ++this.#tries <= mostKeys) {
      this.#ask({ ...study, key: fourthUp(study.key) });
    }
  }
}
