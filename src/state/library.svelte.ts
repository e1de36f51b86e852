// Which saved study is on the desk, and saving it behind the person's back without ever losing anything.
import { Collection } from './collection.svelte';
import { answerTime, inTime, openShelf } from './database';
import { newStudy, studyDefaults, type Study } from './document';
import { restore, restoreText, studyFile, type Restored } from './envelope';
import { isOrphan, Journal, type JournalEntry, type JournalStorage } from './journal';
import { isStudyFragment } from './link-form';
import type { LinkReading, LinkView } from './links';
import type { Notices } from './notices.svelte';
import { alone, live, livingPages, type PageLocks } from './pages';
import type { Shelf } from './persistence';
import type { PracticeLog } from './practice-log.svelte';
import type { DamagedEntry, StudyEntry } from './records';
import { Saver } from './saver.svelte';
import { tabMemory, type TabMemory } from './tab';
import { titleOf, withTitle } from './titles';
import { tellOutcome, tellTrouble } from './saving-notices';

/**
 * Nothing to save; on its way into the store; in the store; not there, but written down beside it; nowhere but on the
 * screen.
 */
export type SaveState = 'untouched' | 'saving' | 'saved' | 'kept' | 'unsaved';

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
  /** Where every edit is written down at once. */
  readonly journal?: JournalStorage | null;
  /** Tells which pages live; null where the browser cannot. */
  readonly locks?: PageLocks | null;
  /** Gives the person the text of a study as a file. */
  readonly giveFile?: (title: string, text: string) => void;
  /** What else a link that is opened shows. */
  readonly onview?: (view: LinkView) => void;
  /** What is kept about studies apart from them, by `deskId`. */
  readonly log?: Pick<PracticeLog, 'move' | 'forget'>;
}

/** How long after the last change a study goes into the store, in milliseconds. It is in the journal at once. */
export const saveDelay = 700;

/** The code that reads links is fetched for those who follow one. */
async function readLink(fragment: string): Promise<LinkReading> {
  try {
    const { readFragment } = await import('./links');
    return readFragment(fragment);
  } catch {
    return { kind: 'fault', reason: 'not loaded' };
  }
}

const draftOf = (study: Study): string => `title:${(titleOf(study.chartText) ?? '').slice(0, 150)}`;

export class Library {
  readonly #parts: LibraryParts;
  readonly #page: string;
  readonly #tab: TabMemory;
  /** The page that worked in this tab before. */
  readonly #before: string | null;
  readonly #journal: Journal;
  readonly #saver: Saver;
  readonly #collection: Collection;
  /** Id of the study on the desk; null before its first change. */
  #id = $state<string | null>(null);
  /** Stands for the id of a study that has none yet: its title when it came to the desk. */
  #draft = $state('');
  #timer: ReturnType<typeof setTimeout> | undefined;
  /** Counts what was laid on the desk, so that what took long to open does not come too late. */
  #laid = 0;

  constructor(parts: LibraryParts) {
    this.#parts = parts;
    this.#page = parts.newId();
    this.#tab = tabMemory(parts.tab);
    this.#before = this.#tab.get('page');
    this.#journal = new Journal(parts.journal ?? null, this.#page);
    this.#draft = draftOf(parts.desk.study);
    this.#saver = new Saver({
      openShelf: parts.openShelf ?? openShelf,
      journal: this.#journal,
      newId: parts.newId,
      now: parts.now,
      onsaved: (record, outcome, from) => {
        tellOutcome(parts.notices, outcome);
        this.#collection.list(record);
        if (from.id === this.#id && record.id !== from.id) this.#name(record.id);
      },
      ontrouble: (trouble, isHeld) => {
        tellTrouble(parts.notices, trouble, isHeld, () => this.#giveDesk());
      },
    });
    this.#collection = new Collection(this.#saver, parts);
  }

  get entries(): readonly StudyEntry[] {
    return this.#collection.entries;
  }
  get damaged(): readonly DamagedEntry[] {
    return this.#collection.damaged;
  }
  /** Id of the study on the desk; null before its first change. */
  get openId(): string | null {
    return this.#id;
  }
  /** What is kept about the study on the desk is kept under this: its id, or a stand-in until its first change. */
  get deskId(): string {
    return this.#id ?? this.#draft;
  }
  get saveState(): SaveState {
    if (this.#id === null) return 'untouched';
    const waiting = this.#saver.unsaved.get(this.#id);
    if (!waiting) return 'saved';
    const { trouble } = this.#saver;
    if (trouble === null) return 'saving';
    if (waiting.isHeld) return 'kept';
    return trouble === 'slow' ? 'saving' : 'unsaved';
  }
  /** What the store of studies is at present: answering late, refused by the browser, or as it should be. */
  get store(): 'usual' | 'slow' | 'refused' {
    const { trouble } = this.#saver;
    return trouble === 'slow' ? 'slow' : trouble === 'refused' || trouble === 'newer' ? 'refused' : 'usual';
  }
  /** True while something would be lost if the page were closed now. */
  get isAtRisk(): boolean {
    return this.#saver.isAtRisk;
  }

  /** At the start: what a link asks for, else what this tab had open, else the study worked on last. */
  async begin(fragment: string): Promise<void> {
    const remembered = this.#tab.get('open');
    const isLinked = isStudyFragment(fragment);
    // The page before this one in the same tab left this: it is back before anything is asked of the store.
    const left = this.#journal
      .others()
      .find(({ id, page, isLeft }) => isLeft && id === remembered && page === this.#before);
    if (left) this.#adopt(left, !isLinked);
    if (isLinked) await this.openFragment(fragment);
    await this.#takeOver(remembered);
    const laid = this.#laid;
    await this.refresh();
    const id = remembered ?? this.entries[0]?.id;
    // A change made while the store was opening is newer than anything in it.
    if (id !== undefined && this.saveState === 'untouched' && this.#laid === laid) await this.open(id);
  }

  /** Takes over what pages that are gone have left; what was on this tab's desk goes back there, else the latest. */
  async #takeOver(remembered: string | null): Promise<void> {
    if (this.#journal.others().length === 0) return;
    const { locks = null, now } = this.#parts;
    const living = await livingPages(locks);
    await alone(locks, () => {
      const orphans = this.#journal.others().filter((entry) => isOrphan(entry, living, now()));
      const isFree = this.saveState === 'untouched' && this.#laid === 0;
      const forDesk = orphans.find(({ id }) => remembered === null || id === remembered);
      for (const entry of orphans) this.#adopt(entry, isFree && entry === forDesk);
    });
  }

  /** Makes another page's work this page's. */
  #adopt(entry: JournalEntry, isForDesk: boolean): void {
    const restored = restore(entry.envelope);
    if (!restored.ok) return;
    this.#start();
    const id = this.#saver.adopt(entry);
    if (id === null) return;
    if (isForDesk) this.#lay(restored.study, id);
    else if (entry.page !== this.#before)
      this.#parts.notices.show({ code: 'brought back', title: entry.title });
    this.#saveSoon();
  }

  refresh(): Promise<void> {
    return this.#collection.refresh();
  }

  /** The document changed: written down now, saved soon. */
  touch(): void {
    const { study } = this.#parts.desk;
    if (this.#id === null) {
      const id = this.#parts.newId();
      this.#parts.log?.move(this.#draft, id);
      this.#name(id);
    }
    this.#start();
    this.#collection.keep(this.#id!, study);
    this.#saveSoon();
  }

  #hasStarted = false;
  /** From its first change on, the page is known as living, and this tab remembers it. */
  #start(): void {
    if (this.#hasStarted) return;
    this.#hasStarted = true;
    live(this.#parts.locks ?? null, this.#page);
    this.#tab.set('page', this.#page);
  }

  #saveSoon(): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.flush(), saveDelay);
  }

  /** Saves now what is waiting to be saved; resolves when all of it was tried. */
  flush(): Promise<void> {
    clearTimeout(this.#timer);
    return this.#saver.flush();
  }

  /** The page is being left. */
  leave(): void {
    this.#journal.leave();
    void this.flush();
  }

  /** The page is back after it had been left. */
  comeBack(): void {
    this.#saver.comeBack();
    this.#saveSoon();
  }

  /** Resolves when nothing would be lost with the page, or when that cannot be had. */
  async secure(): Promise<void> {
    if (this.isAtRisk) await this.flush();
  }

  #name(id: string | null): void {
    this.#id = id;
    this.#tab.set('open', id);
  }

  /** Before something else is laid on the desk; false when the work there is nowhere else and must stay. */
  async #clear(): Promise<boolean> {
    const isHeld = this.#id === null || (this.#saver.unsaved.get(this.#id)?.isHeld ?? true);
    if (isHeld) {
      void this.flush();
      return true;
    }
    // A store that takes long gets the work in its time: it is in the list meanwhile.
    await inTime(this.flush(), answerTime).catch(() => undefined);
    return this.saveState !== 'unsaved';
  }

  /** Opens a saved study; a message says so when it cannot be read. */
  async open(id: string): Promise<void> {
    const turn = ++this.#laid;
    if (!(await this.#clear())) return;
    const record = await this.#collection.recordOf(id);
    // Something else was opened meanwhile.
    if (turn !== this.#laid) return;
    if (!record) {
      await this.refresh();
      this.#parts.notices.show({ code: 'gone' });
      return;
    }
    this.#accept(restore(record.envelope), id);
  }

  /** Starts from a chart text and a take of it; it is saved with the first change. */
  async openText(text: string, seed = studyDefaults.seed): Promise<void> {
    if (!(await this.#clear())) return;
    const { instrument, stringLength, span, setup, barred } = this.#parts.desk.study;
    this.#lay(newStudy(text, { instrument, stringLength, span, setup, barred, seed }), null);
  }

  /** Opens what a link holds; true when it held a study. A broken link leaves the desk as it is and says so. */
  async openFragment(fragment: string): Promise<boolean> {
    if (!isStudyFragment(fragment)) return false;
    const reading = await readLink(fragment);
    if (reading.kind === 'none') return false;
    if (reading.kind === 'fault') {
      this.#parts.notices.show({ code: 'link fault', reason: reading.reason });
      return false;
    }
    if (reading.view) this.#parts.onview?.(reading.view);
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

  #accept(restored: Restored, id: string | null): void {
    const { notices } = this.#parts;
    if (!restored.ok) {
      notices.show({ code: 'restore fault', reason: restored.reason });
      return;
    }
    if (restored.replaced.length > 0) notices.show({ code: 'partly read' });
    this.#lay(restored.study, id);
  }

  #lay(study: Study, id: string | null): void {
    this.#laid++;
    this.#name(id);
    this.#draft = draftOf(study);
    this.#parts.desk.open(study);
  }

  #giveDesk(): void {
    const { study } = this.#parts.desk;
    this.#parts.giveFile?.(titleOf(study.chartText) ?? '', studyFile(study));
  }

  /** Gives a saved study another title. The one on the desk is renamed as an edit that can be undone. */
  async rename(id: string, title: string): Promise<void> {
    const { desk } = this.#parts;
    if (this.#id === id) {
      desk.setChartText(withTitle(desk.study.chartText, title));
      await this.flush();
    } else await this.#collection.rename(id, title);
  }

  fileOf(id: string): Promise<string | undefined> {
    return this.#collection.fileOf(id);
  }
  damagedFile(entry: DamagedEntry): Promise<string | undefined> {
    return this.#collection.damagedFile(entry);
  }
  removeDamaged(entry: DamagedEntry): Promise<void> {
    return this.#collection.removeDamaged(entry);
  }

  /** Lays a copy beside a saved study, under a title of its own. */
  async duplicate(id: string, title: string): Promise<void> {
    this.#start();
    await this.#collection.rename(id, title, this.#parts.newId());
  }

  /** Removes a saved study; a notice offers to put it back. The desk keeps what lies on it. */
  async remove(id: string): Promise<void> {
    await this.flush();
    const wasOpen = this.#id === id;
    await this.#collection.remove(id, () => {
      if (wasOpen && this.#id === null) this.#name(id);
    });
    if (wasOpen) this.#name(null);
  }
}
