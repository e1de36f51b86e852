// Which saved study is on the desk, and saving it behind the person's back without ever losing anything.
import { newStudy, setChartText, studyDefaults, type Study } from './document';
import { envelop, restore, restoreText, studyFile, type Restored } from './envelope';
import { openShelf } from './database';
import { readFragment } from './links';
import { StudyStore, type Bookmark, type SaveOutcome, type Shelf, type StudyEntry } from './persistence';
import { titleOf, withTitle } from './titles';
import type { Notices } from './notices.svelte';
import type { PracticeLog } from './practice-log.svelte';

export type SaveState = 'untouched' | 'saving' | 'saved' | 'failed';

/** The desk as the library sees it. */
export interface Desk {
  readonly study: Study;
  setChartText(text: string): void;
  open(study: Study): void;
}

export interface LibraryParts {
  readonly desk: Desk;
  readonly notices: Notices;
  readonly now: () => number;
  readonly newId: () => string;
  /** Remembers, for this tab, which study is open. */
  readonly tab: Pick<Storage, 'getItem' | 'setItem' | 'removeItem'> | null;
  readonly openShelf?: () => Promise<Shelf>;
  /** What is kept about studies apart from them, by `deskId`. */
  readonly log?: Pick<PracticeLog, 'move' | 'forget'>;
}

/** How long after the last change a study is saved, in milliseconds. */
export const saveDelay = 700;
const tabKey = 'ramble.open';

const draftOf = (study: Study): string => `title:${(titleOf(study.chartText) ?? '').slice(0, 150)}`;

export class Library {
  readonly #parts: LibraryParts;
  readonly #store: Promise<StudyStore>;
  #entries = $state.raw<readonly StudyEntry[]>([]);
  #bookmark = $state.raw<Bookmark | null>(null);
  /** Stands for the id of a study that has none yet: its title when it came to the desk. */
  #draft = $state('');
  #saveState = $state<SaveState>('untouched');
  #inMemory = $state(false);
  #timer: ReturnType<typeof setTimeout> | undefined;
  #saving: Promise<void> = Promise.resolve();

  constructor(parts: LibraryParts) {
    this.#parts = parts;
    this.#draft = draftOf(parts.desk.study);
    this.#store = (parts.openShelf ?? openShelf)().then((shelf) => {
      this.#inMemory = shelf.kind === 'memory';
      if (this.#inMemory) parts.notices.show({ code: 'memory only' });
      return new StudyStore(shelf, parts);
    });
  }

  get entries(): readonly StudyEntry[] {
    return this.#entries;
  }
  /** Id of the saved study on the desk; null while it has never been saved. */
  get openId(): string | null {
    return this.#bookmark?.id ?? null;
  }
  /** What is kept about the study on the desk is kept under this: its id, or a stand-in until it is saved. */
  get deskId(): string {
    return this.#bookmark?.id ?? this.#draft;
  }
  get saveState(): SaveState {
    return this.#saveState;
  }
  /** True when the browser keeps no studies: they last as long as the page. */
  get inMemory(): boolean {
    return this.#inMemory;
  }

  /** At the start: what a link asks for, else what this tab had open, else the study saved last. */
  async begin(fragment: string): Promise<void> {
    if (await this.openFragment(fragment)) return;
    const before = this.#bookmark;
    await this.refresh();
    const id = this.#parts.tab?.getItem(tabKey) ?? this.#entries[0]?.id;
    // A change made while the store was opening is newer than anything in it.
    if (id !== undefined && this.#saveState === 'untouched' && this.#bookmark === before) await this.open(id);
  }

  async refresh(): Promise<void> {
    this.#entries = await (await this.#store).list();
  }

  /** The document changed: save it soon. */
  touch(): void {
    this.#saveState = 'saving';
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.flush(), saveDelay);
  }

  /** Saves now what is waiting to be saved; resolves when it lies in the store. */
  flush(): Promise<void> {
    clearTimeout(this.#timer);
    if (this.#saveState === 'saving' || this.#saveState === 'failed')
      this.#saving = this.#saving.then(() => this.#save());
    return this.#saving;
  }

  async #save(): Promise<void> {
    const { desk } = this.#parts;
    const { study } = desk;
    const outcome = await (
      await this.#store
    ).save(this.#bookmark, titleOf(study.chartText) ?? '', envelop(study));
    if (!this.#tell(outcome)) {
      this.#saveState = 'failed';
      return;
    }
    if (!this.#bookmark) this.#parts.log?.move(this.#draft, outcome.record.id);
    this.#keep({ id: outcome.record.id, revision: outcome.record.revision });
    if (desk.study === study) this.#saveState = 'saved';
    await this.refresh();
  }

  #keep(bookmark: Bookmark | null): void {
    this.#bookmark = bookmark;
    try {
      if (bookmark) this.#parts.tab?.setItem(tabKey, bookmark.id);
      else this.#parts.tab?.removeItem(tabKey);
    } catch {
      // A browser that keeps nothing for the tab only means that a reload opens the study saved last.
    }
  }

  /** Saves the work on the desk before something else is laid there; false when that failed, and the work must stay. */
  async #clear(): Promise<boolean> {
    await this.flush();
    return this.#saveState !== 'failed';
  }

  /** Opens a saved study; a message says so when it cannot be read. */
  async open(id: string): Promise<void> {
    if (!(await this.#clear())) return;
    const record = await (await this.#store).load(id);
    if (!record) {
      await this.refresh();
      this.#parts.notices.show({ code: 'gone' });
      return;
    }
    this.#accept(restore(record.envelope), { id, revision: record.revision });
  }

  /** Starts from a chart text and a take of it; it is saved with the first change. */
  async openText(text: string, seed = studyDefaults.seed): Promise<void> {
    if (!(await this.#clear())) return;
    const { instrument, stringLength, span, setup, barred } = this.#parts.desk.study;
    this.#keep(null);
    this.#saveState = 'untouched';
    this.#lay(newStudy(text, { instrument, stringLength, span, setup, barred, seed }));
  }

  /** Opens what a link holds; true when it held a study. A broken link leaves the desk as it is and says so. */
  async openFragment(fragment: string): Promise<boolean> {
    const reading = readFragment(fragment);
    if (reading.kind === 'none') return false;
    if (reading.kind === 'fault') {
      this.#parts.notices.show({ code: 'link fault', reason: reading.reason });
      return false;
    }
    if (!(await this.#clear())) return false;
    this.#accept({ ok: true, study: reading.study, replaced: reading.replaced }, null);
    this.touch();
    return true;
  }

  /** Opens the text of a study file as a study of its own. */
  async importFile(text: string): Promise<void> {
    if (!(await this.#clear())) return;
    const restored = restoreText(text);
    this.#accept(restored, null);
    if (restored.ok) this.touch();
  }

  #accept(restored: Restored, bookmark: Bookmark | null): void {
    const { notices } = this.#parts;
    if (!restored.ok) {
      notices.show({ code: 'restore fault', reason: restored.reason });
      return;
    }
    if (restored.replaced.length > 0) notices.show({ code: 'partly read' });
    this.#keep(bookmark);
    this.#saveState = bookmark ? 'saved' : 'untouched';
    this.#lay(restored.study);
  }

  #lay(study: Study): void {
    this.#draft = draftOf(study);
    this.#parts.desk.open(study);
  }

  /** The text of a saved study's file; undefined when it is gone or cannot be read. */
  async fileOf(id: string): Promise<string | undefined> {
    const record = await (await this.#store).load(id);
    const restored = record && restore(record.envelope);
    return restored?.ok ? studyFile(restored.study) : undefined;
  }

  /** Lays a copy beside a saved study, under a title of its own. */
  async duplicate(id: string, title: string): Promise<void> {
    await this.flush();
    const store = await this.#store;
    const record = await store.load(id);
    const restored = record && restore(record.envelope);
    if (!restored?.ok) return;
    const copy = setChartText(restored.study, withTitle(restored.study.chartText, title));
    this.#tell(await store.save(null, title, envelop(copy)));
    await this.refresh();
  }

  /** Gives a saved study another title. The one on the desk is renamed as an edit that can be undone. */
  async rename(id: string, title: string): Promise<void> {
    const { desk } = this.#parts;
    if (this.#bookmark?.id === id) {
      desk.setChartText(withTitle(desk.study.chartText, title));
      await this.flush();
      return;
    }
    const store = await this.#store;
    const record = await store.load(id);
    if (!record) return;
    const restored = restore(record.envelope);
    if (!restored.ok) return;
    const renamed = setChartText(restored.study, withTitle(restored.study.chartText, title));
    this.#tell(await store.save(record, title, envelop(renamed)));
    await this.refresh();
  }

  /** Says what a save that did not go the plain way came to; true when the work lies in the store. */
  #tell(outcome: SaveOutcome): outcome is Exclude<SaveOutcome, { kind: 'failed' }> {
    const { notices } = this.#parts;
    if (outcome.kind === 'failed') {
      notices.show({ code: outcome.reason === 'quota' ? 'quota' : 'not saved' });
      return false;
    }
    if (outcome.kind === 'copied') notices.show({ code: 'saved beside' });
    return true;
  }

  /** Removes a saved study; a notice offers to put it back. The desk keeps what lies on it. */
  async remove(id: string): Promise<void> {
    await this.flush();
    const store = await this.#store;
    const record = await store.remove(id);
    if (!record) return;
    const wasOpen = this.#bookmark?.id === id;
    if (wasOpen) this.#keep(null);
    const bringBack = this.#parts.log?.forget(id);
    await this.refresh();
    const putBack = async (): Promise<void> => {
      if (await store.putBack(record)) {
        bringBack?.();
        if (wasOpen && this.#bookmark === null) this.#keep({ id, revision: record.revision });
      }
      await this.refresh();
    };
    this.#parts.notices.show(
      { code: 'removed', title: record.title },
      {
        name: 'undo',
        run: () => void putBack(),
      },
    );
  }
}
