// How long was played, in pieces small enough that a closed page loses little, and when a break is due.

/** Minutes of playing after which a break is suggested [expert opinion: 5 minutes after 25]. */
const breakAfterMinutes = 25;
/** A pause as long as this is a break: the count begins anew. */
const breakMinutes = 5;
const minute = 60_000;
/** Milliseconds after which a piece is told. */
const pieceLength = 20_000;

/** Times are milliseconds of one clock. */
export class PlayedTime {
  readonly #tell: (seconds: number, isBreakDue: boolean) => void;
  #from: number | null = null;
  #stoppedAt = -Infinity;
  #sinceBreak = 0;

  /** `tell` is given each piece in seconds, and whether a break is due with it. */
  constructor(tell: (seconds: number, isBreakDue: boolean) => void) {
    this.#tell = tell;
  }

  start(now: number): void {
    if (now - this.#stoppedAt >= breakMinutes * minute) this.#sinceBreak = 0;
    this.#from = now;
  }

  /** Tells a piece once it is long enough. Cheap: call it once a frame. */
  look(now: number): void {
    if (this.#from !== null && now - this.#from >= pieceLength) this.add(now);
  }

  /** Tells what was played since the last piece. */
  add(now: number): void {
    if (this.#from === null) return;
    const played = Math.max(0, now - this.#from);
    this.#from = now;
    this.#sinceBreak += played;
    const isBreakDue = this.#sinceBreak >= breakAfterMinutes * minute;
    if (isBreakDue) this.#sinceBreak = 0;
    this.#tell(played / 1000, isBreakDue);
  }

  stop(now: number): void {
    this.add(now);
    this.#from = null;
    this.#stoppedAt = now;
  }
}
