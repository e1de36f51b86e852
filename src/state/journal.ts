// What no store holds yet, written down the moment it is made: one entry for each study a page works on. Writing here
// returns when it is done, so a page that is closed in the same instant has lost nothing. The next page takes over what
// pages that are gone have left.
import * as v from 'valibot';
import { envelopeFault } from './envelope';
import type { Version } from './persistence';
import { timeOf } from './records';

/** The part of the browser's storage that is needed. */
export type JournalStorage = Pick<Storage, 'getItem' | 'setItem' | 'removeItem' | 'key' | 'length'>;

export interface JournalEntry extends Version {
  /** Id of the page that works on the study. */
  readonly page: string;
  /** The page has been left. */
  readonly isLeft: boolean;
}

/** An entry without what says whose it is. */
export const versionOf = ({ id, base, title, at, writer, envelope }: JournalEntry): Version => ({
  id,
  base,
  title,
  at,
  writer,
  envelope,
});

export const journalKey = 'ramble.journal.';
/** Longest entry, in characters; browsers keep some five million for all pages of a site (common practice, no source). */
export const mostEntryText = 1_000_000;
/** An entry untouched for so long belongs to a page that is gone, where a browser cannot tell which pages live. */
export const mostSilence = 10 * 60_000;

const entrySchema = v.object({
  id: v.pipe(v.string(), v.minLength(1)),
  base: v.pipe(v.number(), v.integer(), v.minValue(0)),
  title: v.string(),
  at: v.pipe(
    v.number(),
    v.check((at) => timeOf(at) !== null),
  ),
  writer: v.object({ lineage: v.string(), step: v.pipe(v.number(), v.integer(), v.minValue(0)) }),
  envelope: v.custom<Version['envelope']>((envelope) => envelopeFault(envelope) === null),
  page: v.pipe(v.string(), v.minLength(1)),
  isLeft: v.boolean(),
});

function readEntry(text: string | null): JournalEntry | undefined {
  try {
    const result = v.safeParse(entrySchema, JSON.parse(text ?? ''));
    return result.success ? result.output : undefined;
  } catch {
    return undefined;
  }
}

export class Journal {
  readonly #storage: JournalStorage | null;
  readonly #page: string;
  /** What this page has written down, by study. */
  readonly #own = new Map<string, Version>();

  /** @param page id of this page, new each time it is loaded */
  constructor(storage: JournalStorage | null, page: string) {
    this.#storage = storage;
    this.#page = page;
  }

  #keyOf(page: string, id: string): string {
    return `${journalKey}${page}.${id}`;
  }

  #write(version: Version, isLeft: boolean): boolean {
    const entry: JournalEntry = { ...version, page: this.#page, isLeft };
    try {
      const text = JSON.stringify(entry);
      if (!this.#storage || text.length > mostEntryText) return false;
      this.#storage.setItem(this.#keyOf(this.#page, version.id), text);
      return true;
    } catch {
      // Full or refused: an earlier entry stays, which does no harm, as the store knows a later version when it sees one.
      return false;
    }
  }

  /** Writes a version down in place of the one before; false when the browser does not keep it. */
  keep(version: Version): boolean {
    this.#own.set(version.id, version);
    return this.#write(version, false);
  }

  /** Strikes out a study up to a version that now lies in the store. */
  drop(id: string, step = Infinity): void {
    const own = this.#own.get(id);
    if (own && own.writer.step > step) return;
    this.#own.delete(id);
    this.#remove(this.#keyOf(this.#page, id));
  }

  #remove(key: string): void {
    try {
      this.#storage?.removeItem(key);
    } catch {
      // What cannot be struck out is found again and known to lie in the store.
    }
  }

  /** The page is being left: whoever comes next may take over at once. */
  leave(): void {
    for (const version of this.#own.values()) this.#write(version, true);
  }

  /** The page is back after it had been left; gives the studies that somebody has taken over meanwhile. */
  comeBack(): readonly string[] {
    const taken: string[] = [];
    for (const version of this.#own.values()) {
      if (this.#read(this.#keyOf(this.#page, version.id)) === null) taken.push(version.id);
      else this.#write(version, false);
    }
    return taken;
  }

  #read(key: string): string | null {
    try {
      return this.#storage?.getItem(key) ?? null;
    } catch {
      return null;
    }
  }

  /** What other pages have written down, the latest first. Entries that cannot be read are left alone. */
  others(): readonly JournalEntry[] {
    const keys: string[] = [];
    try {
      for (let i = 0; i < (this.#storage?.length ?? 0); i++) {
        const key = this.#storage?.key(i);
        if (key?.startsWith(journalKey)) keys.push(key);
      }
    } catch {
      return [];
    }
    return keys
      .map((key) => readEntry(this.#read(key)))
      .filter((entry) => entry !== undefined && entry.page !== this.#page)
      .sort((a, b) => b!.at - a!.at) as JournalEntry[];
  }

  /** Strikes out another page's entry, once this page holds what was in it. */
  strike({ page, id }: JournalEntry): void {
    this.#remove(this.#keyOf(page, id));
  }
}

/** Whether the page of an entry is gone. `living`: pages that are there; null where the browser cannot tell. */
export function isOrphan(entry: JournalEntry, living: ReadonlySet<string> | null, now: number): boolean {
  if (entry.isLeft) return true;
  return living ? !living.has(entry.page) : now - entry.at > mostSilence;
}
