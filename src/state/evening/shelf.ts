// Where nights lie: in a database of their own, saved as studies are, so that a tab never writes over work it has not seen.
import { openNamed, openShelf } from '../database';
import { StudyStore, type Bookmark, type SaveOutcome, type StudyEntry } from '../persistence';
import { envelopNight, restoreNight, type Night, type NightEnvelope, type RestoredNight } from '../night';

export interface NightShelfParts {
  readonly now: () => number;
  readonly newId: () => string;
}

export class NightShelf {
  readonly #store: Promise<StudyStore<NightEnvelope>>;

  constructor(parts: NightShelfParts) {
    this.#store = openShelf<NightEnvelope>(openNamed('ramble-nights')).then(
      (shelf) => new StudyStore(shelf, parts),
    );
  }

  async list(): Promise<readonly StudyEntry[]> {
    return (await this.#store).list();
  }

  /** A saved night with its bookmark; undefined when it is gone. */
  async load(id: string): Promise<{ restored: RestoredNight; bookmark: Bookmark } | undefined> {
    const record = await (await this.#store).load(id);
    return record && { restored: restoreNight(record.envelope), bookmark: record };
  }

  async save(bookmark: Bookmark | null, night: Night): Promise<SaveOutcome<NightEnvelope>> {
    return (await this.#store).save(bookmark, night.title, envelopNight(night));
  }

  /** Takes a night away; the function that is returned puts it back. */
  async remove(id: string): Promise<(() => Promise<boolean>) | undefined> {
    const store = await this.#store;
    const record = await store.remove(id);
    return record && (() => store.putBack(record));
  }
}
