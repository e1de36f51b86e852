// The studies there are: in the store and on their way into it, and what can be done to one that is not on the desk.
import { setChartText, type Study } from './document';
import { envelop, restore, studyFile } from './envelope';
import type { Notices } from './notices.svelte';
import type { PracticeLog } from './practice-log.svelte';
import {
  latestFirst,
  recordText,
  type DamagedEntry,
  type StudyEntry,
  type StudyList,
  type StudyRecord,
} from './records';
import type { Saver } from './saver.svelte';
import { titleOf, withTitle } from './titles';

export interface CollectionParts {
  readonly notices: Notices;
  readonly log?: Pick<PracticeLog, 'forget'>;
}

export class Collection {
  readonly #saver: Saver;
  readonly #parts: CollectionParts;
  #stored = $state.raw<StudyList>({ entries: [], damaged: [] });

  constructor(saver: Saver, parts: CollectionParts) {
    this.#saver = saver;
    this.#parts = parts;
  }

  /** Studies, the latest first: those in the store and those on their way into it. */
  get entries(): readonly StudyEntry[] {
    const { unsaved } = this.#saver;
    if (unsaved.size === 0) return this.#stored.entries;
    const waiting = [...unsaved.values()].map(({ version: { id, title, at } }) => ({
      id,
      title,
      savedAt: at,
    }));
    return latestFirst([...waiting, ...this.#stored.entries.filter(({ id }) => !unsaved.has(id))]);
  }
  /** Records in the store that cannot be opened. */
  get damaged(): readonly DamagedEntry[] {
    return this.#stored.damaged;
  }
  async refresh(): Promise<void> {
    this.#stored = await this.#saver.ask((store) => store.list(), this.#stored);
  }

  /** Puts a record that was just saved into the list, without asking the store again. */
  list({ id, title, savedAt }: StudyEntry): void {
    const others = this.#stored.entries.filter((entry) => entry.id !== id);
    this.#stored = { ...this.#stored, entries: latestFirst([{ id, title, savedAt }, ...others]) };
  }

  /** A study as it is now: on its way into the store, or there. */
  async recordOf(id: string): Promise<Pick<StudyRecord, 'id' | 'envelope'> | undefined> {
    const waiting = this.#saver.unsaved.get(id);
    if (waiting) return waiting.version;
    const record = await this.#saver.ask((store) => store.load(id), undefined);
    if (record) this.#saver.know(record);
    return record;
  }

  /** Writes down a version of a study; it goes into the store with the next save. */
  keep(id: string, study: Study): void {
    this.#saver.keep(id, titleOf(study.chartText) ?? '', envelop(study));
  }

  /** The text of a saved study's file; undefined when it is gone or cannot be read. */
  async fileOf(id: string): Promise<string | undefined> {
    const record = await this.recordOf(id);
    const restored = record && restore(record.envelope);
    return restored?.ok ? studyFile(restored.study) : undefined;
  }

  /** A damaged record as it lies in the store, as text. */
  async damagedFile({ key }: DamagedEntry): Promise<string | undefined> {
    const raw = await this.#saver.ask<unknown>((store) => store.raw(key), undefined);
    return raw === undefined ? undefined : recordText(raw);
  }

  /** Removes a damaged record; a notice offers to put it back. */
  async removeDamaged({ key, title }: DamagedEntry): Promise<void> {
    const raw = await this.#saver.ask((store) => store.take(key), undefined);
    await this.refresh();
    if (raw === undefined) return;
    const putBack = async (): Promise<void> => {
      await this.#saver.ask((store) => store.putBack(raw), false);
      await this.refresh();
    };
    this.#parts.notices.show({ code: 'removed', title }, { name: 'undo', run: () => void putBack() });
  }

  /** Saves a study under another title, as itself or as another study. */
  async rename(id: string, title: string, as = id): Promise<void> {
    const record = await this.recordOf(id);
    const restored = record && restore(record.envelope);
    if (!restored?.ok) return;
    const { study } = restored;
    this.keep(as, setChartText(study, withTitle(study.chartText, title)));
    await this.#saver.flush();
  }

  /** Removes a study; a notice offers to put it back, after which `onback` is called. */
  async remove(id: string, onback: () => void): Promise<void> {
    const title = this.entries.find((entry) => entry.id === id)?.title ?? '';
    const waiting = this.#saver.release(id);
    const raw = await this.#saver.ask((store) => store.take(id), undefined);
    await this.refresh();
    if (raw === undefined && !waiting) return;
    const bringBack = this.#parts.log?.forget(id);
    const putBack = async (): Promise<void> => {
      const isBack = raw !== undefined && (await this.#saver.ask((store) => store.putBack(raw), false));
      if (waiting) {
        await this.recordOf(id);
        this.#saver.keep(id, waiting.title, waiting.envelope);
        await this.#saver.flush();
      }
      if (isBack || waiting) {
        bringBack?.();
        onback();
      }
      await this.refresh();
    };
    this.#parts.notices.show({ code: 'removed', title }, { name: 'undo', run: () => void putBack() });
  }
}
