// The night on the screen: one immutable document with its history, saved by itself, and the plan worked out for it.
import { orderSet, orderTuneOf, type NightPlan } from '../../night';
import type { Answered, OnProgress } from '../../worker';
import { answerTime, inTime } from '../database';
import { restoreText } from '../envelope';
import { historyOf, record, redo, undo, type History } from '../history';
import type { Library, SaveState } from '../library.svelte';
import type { Notices } from '../notices.svelte';
import type { Shelf } from '../persistence';
import type { StudyEntry } from '../records';
import type { Study } from '../study';
import * as nights from '../night';
import type { Night, NightPlace, OriginState } from '../night';
import { NightShelf } from './shelf';

/** Makes an asker that has nights planned by a worker. */
export type ConnectNight = (
  onanswer: (answered: Answered<'night'>) => void,
  onfailure: (message: string) => void,
  onprogress: OnProgress,
) => { request(ask: Answered<'night'>['ask']): void; cancel(): void; dispose(): void };

export interface EveningParts {
  readonly library: Pick<Library, 'fileOf' | 'entries' | 'refresh'>;
  readonly notices: Notices;
  readonly connect: ConnectNight;
  readonly now: () => number;
  readonly newId: () => string;
  readonly openShelf?: () => Promise<Shelf>;
  /** Remembers, for this tab, which night is open. */
  readonly tab: Pick<Storage, 'getItem' | 'setItem' | 'removeItem'> | null;
  /** Title of a night that nobody has named. */
  readonly untitled: string;
}

const saveDelay = 700;
const tabKey = 'ramble.night';
/** Takes drawn of each tune, for their spread. */
const takes = 5;

/** What came of an order that was asked for. */
export interface OrderTold {
  readonly set: number;
  readonly isExact: boolean;
  readonly isChanged: boolean;
}

export class Evening {
  readonly #parts: EveningParts;
  readonly #shelf: NightShelf;
  readonly #asker: ReturnType<ConnectNight>;
  #history = $state.raw<History<Night>>(historyOf(nights.newNight('')));
  #entries = $state.raw<readonly StudyEntry[]>([]);
  /** Id of the night on the desk; null before it is saved. */
  #id = $state<string | null>(null);
  #saveState = $state<SaveState>('untouched');
  /** Studies as they are saved now, by id; null for one that is gone. */
  #told = $state.raw<Readonly<Record<string, Study | null>>>({});
  #plan = $state.raw<{ readonly night: Night; readonly plan: NightPlan } | null>(null);
  #progress = $state<number | null>(null);
  #failure = $state<string | null>(null);
  /** The person stopped the work on the present night. */
  #isStopped = $state(false);
  #ordered = $state.raw<OrderTold | null>(null);
  #asked: { readonly night: Night; readonly ask: Answered<'night'>['ask'] } | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #saving: Promise<void> = Promise.resolve();

  constructor(parts: EveningParts) {
    this.#parts = parts;
    this.#shelf = new NightShelf(parts);
    this.#history = historyOf(nights.newNight(parts.untitled));
    this.#asker = parts.connect(
      ({ ask, answer, isLatest }) => {
        if (ask !== this.#asked?.ask) return;
        this.#plan = { night: this.#asked.night, plan: answer };
        if (isLatest) this.#progress = null;
        if (ask.takes === 0 && isLatest) this.#ask(this.#asked.night, takes);
      },
      (message) => {
        this.#progress = null;
        this.#failure = message;
      },
      ({ done }) => {
        if (this.#asked?.ask.takes === 0) this.#progress = done;
      },
    );
  }

  get night(): Night {
    return this.#history.present;
  }
  get entries(): readonly StudyEntry[] {
    return this.#entries;
  }
  get openId(): string | null {
    return this.#id;
  }
  get saveState(): SaveState {
    return this.#saveState;
  }
  get canUndo(): boolean {
    return this.#history.past.length > 0;
  }
  get canRedo(): boolean {
    return this.#history.future.length > 0;
  }
  /** The last plan that was found; it stays, with the night it is of, while another is worked out. */
  get planned(): { readonly night: Night; readonly plan: NightPlan } | null {
    return this.#plan;
  }
  get isStale(): boolean {
    return this.#plan !== null && this.#plan.night !== this.night;
  }
  /** From 0 to 1 while a plan is worked out; null otherwise. */
  get progress(): number | null {
    return this.#progress;
  }
  get failure(): string | null {
    return this.#failure;
  }
  /** The plan of the present night was stopped: what is shown, if anything, is an earlier one. */
  get isStopped(): boolean {
    return this.#isStopped;
  }
  /** What came of the last order that was asked for, until the night changes. */
  get ordered(): OrderTold | null {
    return this.#ordered;
  }

  /** Opens a night handed over, else the one this tab had open, else the one saved last. */
  async begin(given: Night | null): Promise<void> {
    // A store that takes long is not waited for: the night is worked out meanwhile.
    const studies = inTime(this.#parts.library.refresh(), answerTime).catch(() => undefined);
    await Promise.all([this.refresh(), studies]);
    const id = this.#parts.tab?.getItem(tabKey) ?? this.#entries[0]?.id;
    if (given) this.take(given);
    else if (id !== undefined && this.#saveState === 'untouched') await this.open(id);
    else this.#solve();
  }

  async refresh(): Promise<void> {
    this.#entries = (await this.#shelf.list()) ?? this.#entries;
  }

  /** Changes the night; a run of changes of one group is one step of the history. */
  change(next: Night, group: string | null = null): void {
    if (next === this.night) return;
    this.#history = record(this.#history, next, group, this.#parts.now());
    this.#moved();
  }
  undo(): void {
    this.#history = undo(this.#history);
    this.#moved();
  }
  redo(): void {
    this.#history = redo(this.#history);
    this.#moved();
  }
  #moved(): void {
    this.#ordered = null;
    this.#touch();
    this.#solve();
  }

  /** Takes in a saved study at the end of a set. */
  async addStudy(id: string, set: number): Promise<void> {
    const study = await this.#studyOf(id);
    if (study) this.change(nights.addTune(this.night, set, nights.tuneOf(study, id)));
    else this.#parts.notices.show({ code: 'gone' });
    this.#remember(id, study);
  }

  /** What became of the study of a tune; nothing is told before it was looked at. */
  toldOf(tune: nights.Tune): OriginState {
    const { source } = tune;
    const study = source ? this.#told[source.id] : undefined;
    return study === undefined ? 'same' : nights.toldOf(tune, study);
  }

  /** Takes the study of a tune as it is now. */
  renew(place: NightPlace): void {
    const source = nights.tuneAt(this.night, place)?.source;
    const study = source && this.#told[source.id];
    if (study) this.change(nights.changeTune(this.night, place, (tune) => nights.renewed(tune, study)));
  }

  /** Looks at the saved studies again: one may have changed or gone. */
  async look(): Promise<void> {
    const ids = this.night.sets.flatMap(({ tunes }) => tunes.flatMap(({ source }) => source?.id ?? []));
    const once = ids.filter((id, at) => ids.indexOf(id) === at);
    const found = await Promise.all(once.map(async (id) => [id, await this.#studyOf(id)] as const));
    this.#told = Object.fromEntries(found);
  }

  async #studyOf(id: string): Promise<Study | null> {
    const file = await this.#parts.library.fileOf(id);
    const restored = file === undefined ? null : restoreText(file);
    return restored?.ok ? restored.study : null;
  }
  #remember(id: string, study: Study | null): void {
    this.#told = { ...this.#told, [id]: study };
  }

  /** Puts the tunes of a set in the best order that is found, pinned ones at their ends. */
  order(set: number): void {
    const planned = this.#plan;
    const tunes = this.night.sets[set]?.tunes;
    if (!planned || this.isStale || !tunes) return;
    const pinnedAt = (end: 'first' | 'last'): number | null => {
      const at = tunes.findIndex(({ pinned }) => pinned === end);
      return at < 0 ? null : at;
    };
    const { order, isExact } = orderSet((planned.plan.sets[set] ?? []).map(orderTuneOf), {
      first: pinnedAt('first'),
      last: pinnedAt('last'),
    });
    const next = nights.reorderSet(this.night, set, order);
    this.change(next);
    this.#ordered = { set, isExact, isChanged: next !== planned.night };
  }

  /** Gives up the plan under way; the last one stays. */
  stop(): void {
    this.#isStopped = this.#progress !== null;
    this.#asker.cancel();
    this.#asked = null;
    this.#progress = null;
  }

  /** Plans the night once more after that was stopped or broke. */
  planAgain(): void {
    this.#solve();
  }

  #solve(): void {
    this.#failure = null;
    if (nights.countTunes(this.night) === 0) this.stop();
    this.#isStopped = false;
    if (nights.countTunes(this.night) === 0) {
      this.#plan = null;
      return;
    }
    this.#progress = 0;
    this.#ask(this.night, 0);
  }
  #ask(night: Night, drawn: number): void {
    this.#asked = { night, ask: nights.nightRequest(night, drawn) };
    this.#asker.request(this.#asked.ask);
  }

  #touch(): void {
    this.#saveState = 'saving';
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.flush(), saveDelay);
  }

  /** Saves now what is waiting to be saved. */
  flush(): Promise<void> {
    clearTimeout(this.#timer);
    if (this.#saveState === 'saving' || this.#saveState === 'unsaved')
      this.#saving = this.#saving.then(() => this.#save());
    return this.#saving;
  }

  async #save(): Promise<void> {
    const { night } = this;
    const { notices } = this.#parts;
    this.#id ??= this.#parts.newId();
    const outcome = await this.#shelf.save(this.#id, night);
    if (outcome.kind === 'failed') {
      this.#saveState = 'unsaved';
      notices.show({ code: 'night not saved', reason: outcome.reason });
      return;
    }
    notices.withdraw(['night not saved']);
    if (outcome.kind === 'copied') notices.show({ code: 'night saved beside' });
    if (outcome.kind === 'again') notices.show({ code: 'night saved again' });
    this.#keep(outcome.record.id);
    if (this.night === night) this.#saveState = 'saved';
    await this.refresh();
  }

  #keep(id: string | null): void {
    this.#id = id;
    try {
      if (id !== null) this.#parts.tab?.setItem(tabKey, id);
      else this.#parts.tab?.removeItem(tabKey);
    } catch {
      // A browser that keeps nothing for the tab only means that the night saved last is opened.
    }
  }

  async #clear(): Promise<boolean> {
    await this.flush();
    return this.#saveState !== 'unsaved';
  }

  #lay(night: Night, id: string | null): void {
    this.#keep(id);
    this.#saveState = id === null ? 'untouched' : 'saved';
    this.#history = historyOf(night);
    this.#plan = null;
    this.#ordered = null;
    this.#solve();
    void this.look();
  }

  async startNew(): Promise<void> {
    if (await this.#clear()) this.#lay(nights.newNight(this.#parts.untitled), null);
  }

  async open(id: string): Promise<void> {
    if (!(await this.#clear())) return;
    const loaded = await this.#shelf.load(id);
    if (!loaded) {
      await this.refresh();
      this.#parts.notices.show({ code: 'night gone' });
      return;
    }
    this.#accept(loaded, id);
  }

  /** Opens the text of a night's file as a night of its own. */
  async importFile(text: string): Promise<void> {
    if (!(await this.#clear())) return;
    if (this.#accept(nights.restoreNightText(text), null)) this.#touch();
  }

  /** Lays a night that came by a link on the desk, as a night of its own. */
  take(night: Night): void {
    this.#lay(night, null);
    this.#touch();
  }

  #accept(restored: nights.RestoredNight, id: string | null): boolean {
    const { notices } = this.#parts;
    if (!restored.ok) {
      notices.show({ code: 'night fault', reason: restored.reason });
      return false;
    }
    if (restored.replaced.length > 0) notices.show({ code: 'night partly read' });
    this.#lay(restored.night, id);
    return true;
  }

  /** Removes a saved night; a notice offers to put it back. What lies on the desk stays there. */
  async remove(id: string, title: string): Promise<void> {
    await this.flush();
    const putBack = await this.#shelf.remove(id);
    if (!putBack) return;
    if (this.openId === id) this.#keep(null);
    await this.refresh();
    const run = (): void => void putBack().then(() => this.refresh());
    this.#parts.notices.show({ code: 'removed', title }, { name: 'undo', run });
  }

  /** Ends its thread. What waits is saved. */
  close(): void {
    void this.flush();
    this.#asked = null;
    this.#asker.dispose();
  }
}
