// Saved studies: one record a study with a revision number, so that a tab never writes over work it has not seen.
import type { Envelope } from './envelope';

/** A piece of work as it is stored: what it is and in which version. Unchecked until it passes its restore gate. */
export interface Stored {
  readonly format: string;
  readonly version: number;
}

/** What the list of studies shows. */
export interface StudyEntry {
  readonly id: string;
  readonly title: string;
  readonly savedAt: number;
}

/** A study as it lies in the store. The envelope is unchecked until it passes the restore gate. */
export interface StudyRecord<Kept extends Stored = Envelope> extends StudyEntry {
  /** Counts the saves; a save must name the revision it started from. */
  readonly revision: number;
  readonly envelope: Kept;
}

/** Where records lie: the browser's database, or memory when that refuses. */
export interface Shelf<Kept extends Stored = Envelope> {
  readonly kind: 'database' | 'memory';
  all(): Promise<readonly StudyRecord<Kept>[]>;
  get(id: string): Promise<StudyRecord<Kept> | undefined>;
  /** Reads, decides and writes in one transaction: no other tab comes between. A decision of null writes nothing. */
  update(
    id: string,
    decide: (current: StudyRecord<Kept> | undefined) => StudyRecord<Kept> | null,
  ): Promise<StudyRecord<Kept> | null>;
  remove(id: string): Promise<void>;
}

export type SaveOutcome<Kept extends Stored = Envelope> =
  | { readonly kind: 'saved'; readonly record: StudyRecord<Kept> }
  /** Another tab saved first: this work now lies beside the other as a copy. */
  | { readonly kind: 'copied'; readonly record: StudyRecord<Kept> }
  | { readonly kind: 'failed'; readonly reason: 'quota' | 'store' };

export interface Bookmark {
  readonly id: string;
  readonly revision: number;
}

export interface StudyStoreParts {
  readonly now: () => number;
  readonly newId: () => string;
}

const isQuota = (error: unknown): boolean =>
  typeof error === 'object' && error !== null && 'name' in error && error.name === 'QuotaExceededError';

/** Saves and loads studies on a shelf. */
export class StudyStore<Kept extends Stored = Envelope> {
  readonly #shelf: Shelf<Kept>;
  readonly #parts: StudyStoreParts;

  constructor(shelf: Shelf<Kept>, parts: StudyStoreParts) {
    this.#shelf = shelf;
    this.#parts = parts;
  }

  get kind(): Shelf['kind'] {
    return this.#shelf.kind;
  }

  /** Saved studies, the latest first; empty when the store cannot be read. */
  async list(): Promise<readonly StudyEntry[]> {
    try {
      const records = await this.#shelf.all();
      return [...records].sort((a, b) => b.savedAt - a.savedAt);
    } catch {
      return [];
    }
  }

  async load(id: string): Promise<StudyRecord<Kept> | undefined> {
    try {
      return await this.#shelf.get(id);
    } catch {
      return undefined;
    }
  }

  /**
   * Saves a study. With a bookmark it goes over the revision the bookmark names; when another tab has saved since, or
   * removed it, the work becomes a record of its own and both are kept.
   */
  async save(bookmark: Bookmark | null, title: string, envelope: Kept): Promise<SaveOutcome<Kept>> {
    const record = (id: string, revision: number): StudyRecord<Kept> => ({
      id,
      title,
      savedAt: this.#parts.now(),
      revision,
      envelope,
    });
    try {
      if (bookmark) {
        const saved = await this.#shelf.update(bookmark.id, (current) =>
          current?.revision === bookmark.revision ? record(bookmark.id, bookmark.revision + 1) : null,
        );
        if (saved) return { kind: 'saved', record: saved };
      }
      const id = this.#parts.newId();
      const added = await this.#shelf.update(id, () => record(id, 1));
      if (!added) return { kind: 'failed', reason: 'store' };
      return { kind: bookmark ? 'copied' : 'saved', record: added };
    } catch (error) {
      return { kind: 'failed', reason: isQuota(error) ? 'quota' : 'store' };
    }
  }

  /** Takes a study off the shelf and returns it, so that it can be put back; undefined when it was not there. */
  async remove(id: string): Promise<StudyRecord<Kept> | undefined> {
    const record = await this.load(id);
    if (!record) return undefined;
    try {
      await this.#shelf.remove(id);
      return record;
    } catch {
      return undefined;
    }
  }

  /** Puts a removed record back as it was; false when that failed or something lies in its place. */
  async putBack(record: StudyRecord<Kept>): Promise<boolean> {
    try {
      return (await this.#shelf.update(record.id, (current) => (current ? null : record))) !== null;
    } catch {
      return false;
    }
  }
}

/** A shelf that lasts as long as the page. */
export function memoryShelf<Kept extends Stored = Envelope>(): Shelf<Kept> {
  const records = new Map<string, StudyRecord<Kept>>();
  return {
    kind: 'memory',
    all: () => Promise.resolve([...records.values()]),
    get: (id) => Promise.resolve(records.get(id)),
    update: (id, decide) => {
      const next = decide(records.get(id));
      if (next) records.set(id, structuredClone(next));
      return Promise.resolve(next);
    },
    remove: (id) => {
      records.delete(id);
      return Promise.resolve();
    },
  };
}
