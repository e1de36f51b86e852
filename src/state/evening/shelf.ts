// Where nights lie: in a database of their own, saved as studies are, so that a tab never writes over work it has not seen.
import { answerTime, inTime, openNamed, openShelf } from '../database';
import { faultOf, Store, type SaveOutcome, type Shelf } from '../persistence';
import { readAs, type RecordReading, type StudyEntry } from '../records';
import { Runs } from '../runs';
import { envelopNight, restoreNight, type Night, type NightEnvelope, type RestoredNight } from '../night';

export interface NightShelfParts {
  readonly now: () => number;
  readonly newId: () => string;
  readonly openShelf?: () => Promise<Shelf>;
}

/** A night that is damaged is listed all the same: whoever opens it is told what is wrong. */
const readNight = (raw: unknown): RecordReading<NightEnvelope> =>
  readAs<NightEnvelope>(raw, {
    faultOf: (envelope) => (typeof envelope === 'object' && envelope !== null ? null : 'not a study'),
    titleOf: () => '',
  });

const openNights = (): Promise<Shelf> => openShelf(openNamed('ramble-nights'));

export class NightShelf {
  readonly #parts: NightShelfParts;
  readonly #runs: Runs;
  #store: Promise<Store<NightEnvelope>> | null = null;

  constructor(parts: NightShelfParts) {
    this.#parts = parts;
    this.#runs = new Runs(parts.newId);
  }

  /** Opened when it is first needed, and again after a refusal. */
  #opened(): Promise<Store<NightEnvelope>> {
    if (this.#store) return this.#store;
    const opening = (this.#parts.openShelf ?? openNights)().then((shelf) => new Store(shelf, readNight));
    this.#store = opening;
    opening.catch(() => {
      this.#store = null;
    });
    return opening;
  }

  /** What the store answers; a refusal, or no answer in time, gives something else. */
  async #ask<Value>(
    question: (store: Store<NightEnvelope>) => Promise<Value>,
    otherwise: (error: unknown) => Value,
  ): Promise<Value> {
    try {
      return await inTime(this.#opened().then(question), answerTime);
    } catch (error) {
      return otherwise(error);
    }
  }

  /** Saved nights, the latest first; null when the store does not answer. */
  list(): Promise<readonly StudyEntry[] | null> {
    return this.#ask<readonly StudyEntry[] | null>(
      async (store) => (await store.list()).entries,
      () => null,
    );
  }

  /** A saved night; undefined when it is gone. */
  async load(id: string): Promise<RestoredNight | undefined> {
    const record = await this.#ask(
      (store) => store.load(id),
      () => undefined,
    );
    if (!record) return undefined;
    this.#runs.read(id, record.revision);
    return restoreNight(record.envelope);
  }

  /** Saves a night under its id. A save that was only slow does no harm: the next one knows it for its own. */
  async save(id: string, night: Night): Promise<SaveOutcome> {
    const { lineage, step, revision } = this.#runs.step(id);
    const version = {
      id,
      base: revision,
      title: night.title,
      at: this.#parts.now(),
      writer: { lineage, step },
      envelope: envelopNight(night),
    };
    const outcome = await this.#ask<SaveOutcome>(
      (store) => store.save(version),
      (error) => ({ kind: 'failed', reason: faultOf(error) }),
    );
    if (outcome.kind === 'failed') return outcome;
    const { record } = outcome;
    if (record.id !== id) this.#runs.forget(id);
    this.#runs.set(record.id, { lineage, step, revision: record.revision });
    return outcome;
  }

  /** Takes a night away; the function that is returned puts it back. */
  async remove(id: string): Promise<(() => Promise<boolean>) | undefined> {
    const raw = await this.#ask(
      (store) => store.take(id),
      () => undefined,
    );
    if (raw === undefined) return undefined;
    this.#runs.forget(id);
    return () =>
      this.#ask(
        (store) => store.putBack(raw),
        () => false,
      );
  }
}
