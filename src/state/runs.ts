// Runs of edits: what this page knows of each study it works on, so that every version can say whose it is and what it has
// seen.
import type { Writer } from './records';

export interface Run extends Writer {
  /** At which the study lies in the store as far as is known; 0 when it never did. */
  readonly revision: number;
}

export class Runs {
  readonly #newId: () => string;
  readonly #runs = new Map<string, Run>();

  constructor(newId: () => string) {
    this.#newId = newId;
  }

  of(id: string): Run | undefined {
    return this.#runs.get(id);
  }

  /** One edit more. */
  step(id: string): Run {
    const before = this.#runs.get(id) ?? { lineage: this.#newId(), step: 0, revision: 0 };
    return this.set(id, { ...before, step: before.step + 1 });
  }

  set(id: string, run: Run): Run {
    this.#runs.set(id, run);
    return run;
  }

  /** A study was read at a revision: what is made of it is a run of its own, unless it is known so far already. */
  read(id: string, revision: number): void {
    if (this.#runs.get(id)?.revision !== revision)
      this.set(id, { lineage: this.#newId(), step: 0, revision });
  }

  /** Goes on as a run of its own. */
  part(id: string): void {
    const run = this.#runs.get(id);
    if (run) this.set(id, { ...run, lineage: this.#newId() });
  }

  forget(id: string): void {
    this.#runs.delete(id);
  }
}
