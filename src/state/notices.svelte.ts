// Short messages at the edge of the screen, and what a screen reader is told. Said in codes; the screen has the words.
import type { LinkFault } from './links';
import type { RestoreFault } from './envelope';

/** What a notice says. */
export type Message =
  | {
      readonly code:
        | 'memory only'
        | 'quota'
        | 'not saved'
        | 'saved beside'
        | 'gone'
        | 'partly read'
        | 'link copied'
        | 'link long'
        | 'break'
        | 'notes lost'
        | 'locks lost'
        | 'all locked'
        | 'new version';
    }
  | { readonly code: 'link fault'; readonly reason: LinkFault }
  | { readonly code: 'restore fault'; readonly reason: RestoreFault }
  | { readonly code: 'removed'; readonly title: string }
  | { readonly code: 'playing' | 'stopped' };

/** One thing the person can do about a notice. */
export interface NoticeAction {
  readonly name: 'undo' | 'reload';
  readonly run: () => void;
}

export interface Notice {
  readonly id: number;
  readonly message: Message;
  readonly action: NoticeAction | null;
  /** It says what has been done and asks for nothing: it may go by itself. */
  readonly isPassing: boolean;
}

/** What goes on being so: dismissed once, it has been told. The header says that a study is not saved. */
const lasting: ReadonlySet<Message['code']> = new Set(['memory only', 'quota', 'not saved']);
const passing: ReadonlySet<Message['code']> = new Set(['link copied', 'all locked']);

/** Messages on the screen at once; older ones give way. */
const mostNotices = 3;

export class Notices {
  #list = $state.raw<readonly Notice[]>([]);
  #spoken = $state.raw<Message | null>(null);
  #lastId = 0;
  /** What lasts and was dismissed. */
  #told: readonly Message['code'][] = [];

  get list(): readonly Notice[] {
    return this.#list;
  }

  /** What a screen reader was told last: starts and stops; never a running position. */
  get spoken(): Message | null {
    return this.#spoken;
  }

  /**
   * Shows a message, which is read out too. The same message is not shown twice at once, and what lasts not again once it
   * was dismissed.
   */
  show(message: Message, action: NoticeAction | null = null): void {
    if (this.#told.includes(message.code)) return;
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
    const code = this.#list.find((notice) => notice.id === id)?.message.code;
    if (code && lasting.has(code)) this.#told = [...this.#told, code];
    this.#list = this.#list.filter((notice) => notice.id !== id);
  }

  /** Tells a screen reader something that can be seen anyway. */
  say(message: Message): void {
    this.#spoken = message;
  }
}
