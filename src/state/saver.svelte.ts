// Brings versions of studies into the store, one after another, for as long as it takes. Until one lies there it is in the
// journal, and can be opened from here.
import { SvelteMap } from 'svelte/reactivity';
import type { Envelope } from './envelope';
import { answerTime } from './database';
import { versionOf, type Journal, type JournalEntry } from './journal';
import {
  faultOf,
  StudyStore,
  type SaveFault,
  type SaveOutcome,
  type Shelf,
  type Version,
} from './persistence';
import type { StoredRecord } from './records';
import { Runs } from './runs';

/** Why nothing lies in the store at present: it takes its time, or what a save said; null when all is well. */
export type Trouble = 'slow' | 'refused' | SaveFault;

/** A version that no store holds yet. */
export interface Unsaved {
  readonly version: Version;
  /** The journal holds it. */
  readonly isHeld: boolean;
}

export interface SaverParts {
  readonly openShelf: () => Promise<Shelf>;
  readonly journal: Journal;
  readonly newId: () => string;
  readonly now: () => number;
  /** A version came into the store, perhaps as another study than it set out as. */
  readonly onsaved: (record: StoredRecord, outcome: SaveOutcome['kind'], from: Version) => void;
  /** What stands in the way changed, or whether the journal holds what waits did. */
  readonly ontrouble: (trouble: Trouble | null, isHeld: boolean) => void;
}

/** Waits between tries to save what was refused, in milliseconds. */
export const retryWaits = [2_000, 5_000, 15_000, 30_000, 60_000] as const;

export class Saver {
  readonly #parts: SaverParts;
  readonly #runs: Runs;
  #store: Promise<StudyStore> | null = null;
  readonly #unsaved = new SvelteMap<string, Unsaved>();
  #trouble = $state<Trouble | null>(null);
  #told = '';
  #saving: Promise<void> = Promise.resolve();
  #retry: ReturnType<typeof setTimeout> | undefined;
  #tries = 0;

  constructor(parts: SaverParts) {
    this.#parts = parts;
    this.#runs = new Runs(parts.newId);
  }

  /** Versions that wait for the store, by study. */
  get unsaved(): ReadonlyMap<string, Unsaved> {
    return this.#unsaved;
  }
  get trouble(): Trouble | null {
    return this.#trouble;
  }
  /** True while something would be lost if the page were closed now. */
  get isAtRisk(): boolean {
    return [...this.#unsaved.values()].some(({ isHeld }) => !isHeld);
  }

  /** The store, opened when it is first needed, and again after a refusal. */
  store(): Promise<StudyStore> {
    if (this.#store) return this.#store;
    const opening = this.#parts.openShelf().then(
      (shelf) => {
        if (this.#trouble === 'refused' || this.#trouble === 'newer') this.#note(null);
        return new StudyStore(shelf);
      },
      (error: unknown) => {
        this.#store = null;
        this.#note(faultOf(error) === 'newer' ? 'newer' : 'refused');
        throw error;
      },
    );
    this.#store = opening;
    return opening;
  }

  /** Asks the store something; a refusal, and nothing else, gives the fallback. A slow answer is told as that. */
  async ask<Value>(question: (store: StudyStore) => Promise<Value>, fallback: Value): Promise<Value> {
    try {
      return await this.#patiently(this.store().then(question));
    } catch {
      return fallback;
    }
  }

  async #patiently<Value>(answer: Promise<Value>): Promise<Value> {
    const timer = setTimeout(() => {
      if (this.#trouble === null) this.#note('slow');
    }, answerTime);
    try {
      return await answer;
    } finally {
      clearTimeout(timer);
      if (this.#trouble === 'slow') this.#note(null);
    }
  }

  /** Notes at which revision a study was read. */
  know({ id, revision }: Pick<StoredRecord, 'id' | 'revision'>): void {
    if (!this.#unsaved.has(id)) this.#runs.read(id, revision);
  }

  /** Writes the next version of a study into the journal. It goes into the store with the next `flush`. */
  keep(id: string, title: string, envelope: Envelope): void {
    const { lineage, step, revision } = this.#runs.step(id);
    this.#hold({
      id,
      base: revision,
      title,
      at: this.#parts.now(),
      writer: { lineage, step },
      envelope,
    });
  }

  #hold(version: Version): void {
    const isHeld = this.#parts.journal.keep(version);
    this.#unsaved.set(version.id, { version, isHeld });
    if (this.#trouble !== null) this.#note(this.#trouble);
  }

  /**
   * Carries on what another page left: its run of edits becomes this page's. Gives the study's id; null when the same run
   * came further here. Where this page holds another run of edits on the study, both are kept.
   */
  adopt(entry: JournalEntry): string | null {
    const left = versionOf(entry);
    const mine = this.#unsaved.get(left.id)?.version.writer;
    const isOurs = mine?.lineage === left.writer.lineage;
    const isBehind = isOurs && mine.step >= left.writer.step;
    const version = mine && !isOurs ? { ...left, id: this.#parts.newId(), base: 0 } : left;
    if (!isBehind) {
      this.#runs.set(version.id, { ...version.writer, revision: version.base });
      this.#hold(version);
    }
    this.#parts.journal.strike(entry);
    return isBehind ? null : version.id;
  }

  /** Forgets a study and gives what was waiting of it. */
  release(id: string): Version | undefined {
    const waiting = this.#unsaved.get(id)?.version;
    this.#unsaved.delete(id);
    this.#parts.journal.drop(id);
    this.#runs.forget(id);
    return waiting;
  }

  /** The page came back after it had been left: what others took over meanwhile is another run of edits. */
  comeBack(): void {
    for (const id of this.#parts.journal.comeBack()) {
      const waiting = this.#unsaved.get(id)?.version;
      this.#runs.part(id);
      if (waiting) this.keep(id, waiting.title, waiting.envelope);
    }
  }

  /** Brings what waits into the store; resolves when all of it was tried. */
  flush(): Promise<void> {
    if (this.#unsaved.size > 0) this.#saving = this.#saving.then(() => this.#saveAll());
    return this.#saving;
  }

  async #saveAll(): Promise<void> {
    clearTimeout(this.#retry);
    let hasFailed = false;
    for (const id of [...this.#unsaved.keys()]) {
      const version = this.#unsaved.get(id)?.version;
      if (version) hasFailed = !(await this.#save(version)) || hasFailed;
    }
    if (!hasFailed) {
      this.#tries = 0;
      return;
    }
    const wait = retryWaits[Math.min(this.#tries, retryWaits.length - 1)]!;
    this.#tries += 1;
    this.#retry = setTimeout(() => void this.flush(), wait);
  }

  async #save(waiting: Version): Promise<boolean> {
    const version = { ...waiting, base: this.#runs.of(waiting.id)?.revision ?? waiting.base };
    const outcome = await this.ask<SaveOutcome>((store) => store.save(version), {
      kind: 'failed',
      reason: 'store',
    });
    if (outcome.kind === 'failed') {
      // A store that could not be opened has said why.
      if (this.#store !== null) this.#note(outcome.reason);
      return false;
    }
    this.#note(null);
    this.#accept(version, outcome.record);
    this.#parts.onsaved(outcome.record, outcome.kind, version);
    return true;
  }

  /** Strikes out what now lies in the store; edits made meanwhile go on from there. */
  #accept({ id, writer }: Version, record: StoredRecord): void {
    const run = this.#runs.of(id);
    const latest = this.#unsaved.get(id)?.version;
    // Removed meanwhile, or taken over by another page and gone on with here.
    if (run?.lineage !== writer.lineage) return;
    const isLatest = !latest || latest.writer.step <= writer.step;
    if (record.id === id) {
      this.#runs.set(id, { ...run, revision: record.revision });
      if (isLatest) this.#unsaved.delete(id);
      this.#parts.journal.drop(id, writer.step);
      return;
    }
    this.#runs.forget(id);
    this.#runs.set(record.id, { ...run, revision: record.revision });
    this.#unsaved.delete(id);
    // The copy is written down before the original is struck out.
    if (!isLatest) this.#hold({ ...latest, id: record.id, base: record.revision });
    this.#parts.journal.drop(id);
  }

  #note(trouble: Trouble | null): void {
    this.#trouble = trouble;
    const isHeld = !this.isAtRisk;
    const told = `${trouble}:${isHeld}`;
    if (told === this.#told) return;
    this.#told = told;
    this.#parts.ontrouble(trouble, isHeld);
  }
}
