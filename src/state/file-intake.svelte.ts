// A file on its way in: whether it is being read, and what was said of the last one. The latest counts.
import type { Problem } from '../pipeline';

/** Why nothing is known of what a file holds. */
export type UnreadFault = 'too large' | 'not read';

/** What a file came to, with what is to be said about it. */
type Came<Opened, Fault> =
  | (Opened & { readonly kind: 'opened'; readonly problems: readonly Problem[] })
  | { readonly kind: 'refused'; readonly fault: Fault; readonly problems: readonly Problem[] };

export interface FileIntakeParts<Source, Opened, Fault> {
  /** Reads it; null when a later one was begun meanwhile. Never rejects. */
  readonly open: (source: Source) => Promise<Came<Opened, Fault> | null>;
  /** Puts in place what was opened, and says so. */
  readonly accept: (name: string, opened: Opened) => string;
  /** Says why nothing was put in place. */
  readonly refuse: (name: string, fault: NoInfer<Fault> | UnreadFault) => string;
}

export class FileIntake<Source, Opened = unknown, Fault = never> {
  readonly #parts: FileIntakeParts<Source, Opened, Fault>;
  #message = $state('');
  #remarks = $state.raw<readonly Problem[]>([]);
  #isReading = $state(false);
  #latest = 0;

  constructor(parts: FileIntakeParts<Source, Opened, Fault>) {
    this.#parts = parts;
  }

  /** What came of the last file; empty when there is nothing to say. */
  get message(): string {
    return this.#message;
  }
  /** Remarks on the last file. */
  get remarks(): readonly Problem[] {
    return this.#remarks;
  }
  get isReading(): boolean {
    return this.#isReading;
  }

  /** Takes a source in once it is read, unless another came meanwhile. */
  async read(name: string, source: Source): Promise<void> {
    const number = ++this.#latest;
    this.#isReading = true;
    const came = await this.#parts.open(source);
    if (number !== this.#latest) return;
    this.#isReading = false;
    if (!came) return;
    this.#remarks = came.problems;
    this.#message =
      came.kind === 'opened' ? this.#parts.accept(name, came) : this.#parts.refuse(name, came.fault);
  }

  /** A file that could not even be looked at. */
  refuse(name: string, fault: UnreadFault): void {
    this.forget();
    this.#message = this.#parts.refuse(name, fault);
  }

  /** Says nothing more of the last file; one that is being read is not taken in. */
  forget(): void {
    this.#latest++;
    this.#isReading = false;
    this.#message = '';
    this.#remarks = [];
  }
}
