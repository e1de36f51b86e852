// The page's side of a worker. The latest ask wins: one runs, at most one waits, and an answer never comes after a later
// one. A worker that crashes is started again; one that cannot be started is replaced by the same functions here.
import {
  reply,
  type Answer,
  type Ask,
  type Doers,
  type FromWorker,
  type OnProgress,
  type TaskName,
  type ToWorker,
} from './protocol';

/** The part of a Worker that is used, so that tests can bring their own. */
export interface WorkerLike {
  postMessage(message: ToWorker): void;
  terminate(): void;
  onmessage: ((event: MessageEvent<FromWorker>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  onmessageerror: ((event: MessageEvent) => void) | null;
}

export interface Answered<Name extends TaskName> {
  readonly ask: Ask<Name>;
  readonly answer: Answer<Name>;
  /** False while a later ask is still waiting or running. */
  readonly isLatest: boolean;
}

export interface TaskClientParts<Name extends TaskName> {
  readonly task: Name;
  /** Starts a worker; may throw where workers are not allowed. */
  readonly startWorker: () => WorkerLike;
  /** Brings the same computations to this thread, for when there is no worker. */
  readonly loadDoers: () => Promise<Doers>;
  readonly onanswer: (answered: Answered<Name>) => void;
  /** The computation ended with an error, and no later ask is waiting. */
  readonly onfailure: (message: string) => void;
  /** Told now and then how far the ask under way has come; only a worker can, and only of asks that take their time. */
  readonly onprogress?: OnProgress;
  /** How long an ask may go on once a later one waits, in milliseconds. */
  readonly patience: number;
  /**
   * Calls back once what the page looks like now has been painted. Given, an answer waits for the picture of its ask, so that
   * a press is seen at once however much there is to draw for its answer.
   */
  readonly onpainted?: (then: () => void) => void;
}

/** Crashes in a row after which no further worker is started. */
const mostCrashes = 2;

export class TaskClient<Name extends TaskName> {
  readonly #parts: TaskClientParts<Name>;
  #worker: WorkerLike | null = null;
  #crashes = 0;
  #lastId = 0;
  #running: ToWorker | null = null;
  #waiting: ToWorker | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  /** The last ask whose answer nobody waits for. */
  #quietId = 0;
  /** Asked, and the page has not been painted since. */
  #isUnpainted = false;
  /** An answer that came before the picture. */
  #early: FromWorker<Name> | null = null;

  constructor(parts: TaskClientParts<Name>) {
    this.#parts = parts;
  }

  /** True while an ask runs. */
  get isBusy(): boolean {
    return this.#running !== null;
  }

  /** Asks. What waits is forgotten; what runs is finished and answered, unless it takes longer than the patience. */
  request(ask: Ask<Name>): void {
    this.#waiting = { task: this.#parts.task, id: ++this.#lastId, ask } as ToWorker;
    this.#awaitPicture();
    if (!this.#running) this.#next();
    else this.#timer ??= setTimeout(() => this.#giveUp(), this.#parts.patience);
  }

  /** Has the worker work out an ask whose answer is known, so that the next one finds it warm; nothing is answered. */
  prepare(ask: Ask<Name>): void {
    if (this.isBusy) return;
    this.#quietId = ++this.#lastId;
    this.#waiting = { task: this.#parts.task, id: this.#quietId, ask } as ToWorker;
    this.#next();
  }

  /** In a run of asks no answer waits for more than one picture. */
  #awaitPicture(): void {
    if (!this.#parts.onpainted || this.#isUnpainted) return;
    this.#isUnpainted = true;
    this.#parts.onpainted(() => {
      this.#isUnpainted = false;
      const early = this.#early;
      this.#early = null;
      if (early) this.#receive(early);
    });
  }

  /** Forgets what runs and what waits; nothing more is answered. */
  cancel(): void {
    this.#waiting = null;
    if (this.#running) this.#stop();
  }

  /** Ends the worker. A later ask starts a new one. */
  dispose(): void {
    this.cancel();
    this.#worker?.terminate();
    this.#worker = null;
  }

  #giveUp(): void {
    this.#timer = undefined;
    if (!this.#waiting || !this.#running) return;
    this.#stop();
    this.#next();
  }

  #stop(): void {
    this.#worker?.terminate();
    this.#worker = null;
    this.#finish();
  }

  #finish(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    this.#running = null;
    this.#early = null;
  }

  #next(): void {
    const message = this.#waiting;
    this.#waiting = null;
    if (!message) return;
    this.#running = message;
    try {
      if (this.#crashes >= mostCrashes) throw new Error('workers keep crashing');
      this.#worker ??= this.#start();
      this.#worker.postMessage(message);
    } catch {
      this.#crashes = mostCrashes;
      // Without a worker there is nothing to make ready.
      if (message.id === this.#quietId) this.#finish();
      else void this.#runHere(message);
    }
  }

  #start(): WorkerLike {
    const worker = this.#parts.startWorker();
    worker.onmessage = (event) => {
      this.#receive(event.data);
    };
    worker.onerror = (event) => {
      event.preventDefault();
      this.#crash(worker);
    };
    worker.onmessageerror = () => {
      this.#crash(worker);
    };
    return worker;
  }

  #crash(worker: WorkerLike): void {
    if (worker !== this.#worker) return;
    worker.terminate();
    this.#worker = null;
    this.#crashes++;
    this.#waiting ??= this.#running;
    this.#finish();
    this.#next();
  }

  async #runHere(message: ToWorker): Promise<void> {
    try {
      const doers = await this.#parts.loadDoers();
      if (this.#running === message) this.#receive(reply(message, doers));
    } catch (error) {
      this.#receive({ kind: 'failed', id: message.id, message: String(error) });
    }
  }

  #receive(received: FromWorker<Name>): void {
    const message = this.#running;
    if (message?.id !== received.id) return;
    if (received.kind === 'progress') {
      if (received.id !== this.#quietId) this.#parts.onprogress?.(received.progress);
      return;
    }
    if (this.#isUnpainted) {
      this.#early = received;
      return;
    }
    this.#finish();
    if (received.id === this.#quietId) {
      // Only the worker was to learn something.
    } else if (received.kind === 'done') {
      if (this.#worker) this.#crashes = 0;
      const isLatest = this.#waiting === null;
      this.#parts.onanswer({ ask: message.ask, answer: received.answer, isLatest });
    } else if (this.#waiting === null) {
      this.#parts.onfailure(received.message);
    }
    if (!this.#running) this.#next();
  }
}
