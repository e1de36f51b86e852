// Saved work: one record a study or night with a revision number, so that a tab never writes over work it has not seen.
import type { Envelope } from './envelope';
import {
  listOf,
  readRecord,
  type RecordReading,
  type StoredRecord,
  type StudyList,
  type Writer,
} from './records';

/** A version of a study, or of other work, on its way into the store. */
export interface Version<Kept extends object = Envelope> {
  readonly id: string;
  /** The revision it goes over; 0 for a study that is not in the store yet. */
  readonly base: number;
  readonly title: string;
  /** When it was made, in milliseconds since 1970. */
  readonly at: number;
  readonly writer: Writer;
  readonly envelope: Kept;
}

/** Where records lie. What comes out is unchecked: it must pass the reader of its kind. */
export interface Shelf {
  all(): Promise<readonly unknown[]>;
  get(id: string): Promise<unknown>;
  /** Reads, decides and writes in one transaction: no other tab comes between. A decision of null writes nothing. */
  update(id: string, decide: (current: unknown) => StoredRecord | null): Promise<StoredRecord | null>;
  /** Writes a record as it came out, where nothing lies under its id; false when something does. */
  putBack(raw: unknown): Promise<boolean>;
  /** Takes out what lies under a key of any kind and returns it. */
  take(key: unknown): Promise<unknown>;
}

export const saveFaults = ['quota', 'newer', 'store'] as const;
/** No room; a database of a newer version of the program; any other refusal. */
export type SaveFault = (typeof saveFaults)[number];

export type SaveOutcome =
  | { readonly kind: 'saved'; readonly record: StoredRecord }
  /** Another tab saved first: this work now lies beside the other as a copy. */
  | { readonly kind: 'copied'; readonly record: StoredRecord }
  /** The record had gone: it is there again. */
  | { readonly kind: 'again'; readonly record: StoredRecord }
  | { readonly kind: 'failed'; readonly reason: SaveFault };

const names: Readonly<Record<string, SaveFault>> = { QuotaExceededError: 'quota', VersionError: 'newer' };

/** Why a store refuses. */
export function faultOf(error: unknown): SaveFault {
  const name = typeof error === 'object' && error !== null && 'name' in error ? String(error.name) : '';
  return names[name] ?? 'store';
}

const isSame = (a: object, b: object): boolean => JSON.stringify(a) === JSON.stringify(b);

/** Whether a version may go over what lies in the store: it has seen all of it. */
function hasSeen({ base, writer, envelope }: Version<object>, current: StoredRecord): boolean {
  return (
    current.revision === base ||
    current.writer?.lineage === writer.lineage ||
    isSame(current.envelope, envelope)
  );
}

/** Whether the store holds this version, or one that came after it. */
const isThere = ({ writer }: Version<object>, current: StoredRecord): boolean =>
  current.writer?.lineage === writer.lineage && current.writer.step >= writer.step;

const recordOf = ({ title, at, writer, envelope }: Version<object>, id: string, revision: number): StoredRecord => ({
  id,
  title,
  savedAt: at,
  revision,
  envelope,
  writer,
});

/** Saves and loads one kind of work on a shelf. What fails throws, except where an outcome says so. */
export class Store<Kept extends object> {
  readonly #shelf: Shelf;
  readonly #read: (raw: unknown) => RecordReading<Kept>;

  constructor(shelf: Shelf, read: (raw: unknown) => RecordReading<Kept>) {
    this.#shelf = shelf;
    this.#read = read;
  }

  async list(): Promise<StudyList> {
    return listOf(await this.#shelf.all(), this.#read);
  }

  /** The record as it can be read; undefined when it is not there or damaged. */
  async load(id: string): Promise<StoredRecord<Kept> | undefined> {
    const reading = this.#read(await this.#shelf.get(id));
    return reading.ok ? reading.record : undefined;
  }

  /** Whatever lies under a key of any kind. */
  async raw(key: unknown): Promise<unknown> {
    return this.#shelf.get(key as string);
  }

  /**
   * Saves a version over what it has seen. Saving the same version twice does no harm: it is found to be there. Where
   * another tab has saved since, the version becomes a record of its own and both are kept; where the record has gone, it
   * is there again.
   */
  async save(version: Version<Kept>): Promise<SaveOutcome> {
    try {
      let isGone = false;
      let there: StoredRecord | undefined;
      const written = await this.#shelf.update(version.id, (raw) => {
        const reading = raw === undefined ? null : this.#read(raw);
        isGone = reading === null && version.base > 0;
        if (reading === null) return recordOf(version, version.id, version.base + 1);
        if (!reading.ok) return null;
        if (isThere(version, reading.record)) {
          there = reading.record;
          return null;
        }
        return hasSeen(version, reading.record)
          ? recordOf(version, version.id, reading.record.revision + 1)
          : null;
      });
      if (written) return { kind: isGone ? 'again' : 'saved', record: written };
      if (there) return { kind: 'saved', record: there };
      return { kind: 'copied', record: await this.#saveBeside(version) };
    } catch (error) {
      return { kind: 'failed', reason: faultOf(error) };
    }
  }

  /** The copy's id says which version it is: made twice, it is one record. */
  async #saveBeside(version: Version<Kept>): Promise<StoredRecord> {
    const { lineage, step } = version.writer;
    const copy = recordOf(version, `${version.id.slice(0, 60)}-${lineage}-${step}`, 1);
    await this.#shelf.update(copy.id, (raw) => (raw === undefined ? copy : null));
    return copy;
  }

  /** Takes what lies under a key off the shelf and returns it, so that it can be put back. */
  take(key: unknown): Promise<unknown> {
    return this.#shelf.take(key);
  }

  /** Puts back what was taken; false when something lies in its place. */
  putBack(raw: unknown): Promise<boolean> {
    return this.#shelf.putBack(raw);
  }
}

export class StudyStore extends Store<Envelope> {
  constructor(shelf: Shelf) {
    super(shelf, readRecord);
  }
}
