// Short messages at the edge of the screen, and what a screen reader is told. Said in codes; the screen has the words.
import type { LinkFault } from './links';
import type { RestoreFault } from './envelope';
import type { NightFault } from './night-faults';
import type { SaveFault } from './persistence';

export type SavingTrouble = 'slow store' | 'memory only' | 'newer store' | 'quota' | 'not saved';

/** What a notice says. */
export type Message =
  | {
      readonly code:
        | 'saved beside'
        | 'saved again'
        | 'gone'
        | 'partly read'
        | 'link copied'
        | 'link long'
        | 'break'
        | 'notes lost'
        | 'notes not kept'
        | 'locks lost'
        | 'no lesson'
        | 'all locked'
        | 'night gone'
        | 'night partly read'
        | 'night saved beside'
        | 'night saved again'
        | 'new version';
    }
  /** What stands in the way of saving; `isHeld`: the browser keeps the work all the same, beside the studies. */
  | { readonly code: SavingTrouble; readonly isHeld: boolean }
  | { readonly code: 'brought back'; readonly title: string }
  | { readonly code: 'link fault'; readonly reason: LinkFault }
  | { readonly code: 'restore fault'; readonly reason: RestoreFault }
  | { readonly code: 'night not saved'; readonly reason: SaveFault }
  | { readonly code: 'night fault'; readonly reason: NightFault | 'cut' }
  | { readonly code: 'removed'; readonly title: string }
  | { readonly code: 'playing' | 'stopped' };

/** One thing the person can do about a notice. */
export interface NoticeAction {
  readonly name: 'undo' | 'reload' | 'file';
  readonly run: () => void;
}

export interface Notice {
  readonly id: number;
  readonly message: Message;
  readonly action: NoticeAction | null;
  /** It says what has been done and asks for nothing: it may go by itself. */
  readonly isPassing: boolean;
}

/** What stands in the way of saving goes on being so: dismissed once, it has been told. The header says how a study is kept. */
const isLasting = (message: Message): boolean => 'isHeld' in message || message.code === 'night not saved';
const isSame = (one: Message, other: Message): boolean =>
  isLasting(one) && JSON.stringify(one) === JSON.stringify(other);
const passing: ReadonlySet<Message['code']> = new Set(['link copied', 'all locked']);

/** Messages on the screen at once; older ones give way. */
const mostNotices = 3;

export class Notices {
  #list = $state.raw<readonly Notice[]>([]);
  #spoken = $state.raw<Message | null>(null);
  #lastId = 0;
  /** What lasts and was dismissed. */
  #told: readonly Message[] = [];

  get list(): readonly Notice[] {
    return this.#list;
  }

  /** What a screen reader was told last: starts and stops; never a running position. */
  get spoken(): Message | null {
    return this.#spoken;
  }

  /**
   * Shows a message, which is read out too. The same message is not shown twice at once, and what lasts not again once it
   * was dismissed: until it was over, or until the work is no longer kept aside.
   */
  show(message: Message, action: NoticeAction | null = null): void {
    if (this.#told.some((told) => isSame(told, message))) return;
    this.#told = this.#told.filter(({ code }) => code !== message.code);
    const notice: Notice = {
      id: ++this.#lastId,
      message,
      action,
      isPassing: action === null && passing.has(message.code),
    };
    const others = this.#list.filter((other) => other.message.code !== message.code);
    this.#list = [...others, notice].slice(-mostNotices);
  }

  dismiss(id: number): void {
    const message = this.#list.find((notice) => notice.id === id)?.message;
    if (message && isLasting(message)) this.#told = [...this.#told, message];
    this.#list = this.#list.filter((notice) => notice.id !== id);
  }

  /** Takes back messages that are no longer so. */
  withdraw(codes: readonly Message['code'][]): void {
    this.#told = this.#told.filter(({ code }) => !codes.includes(code));
    if (this.#list.some(({ message }) => codes.includes(message.code)))
      this.#list = this.#list.filter(({ message }) => !codes.includes(message.code));
  }

  /** Tells a screen reader something that can be seen anyway. */
  say(message: Message): void {
    this.#spoken = message;
  }
}
