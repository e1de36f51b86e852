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
    if (!this.#running) this.#next();
    else this.#timer ??= setTimeout(() => this.#giveUp(), this.#parts.patience);
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
      void this.#runHere(message);
    }
  }

  #start(): WorkerLike {
    const worker = this.#parts.startWorker();
    worker.onmessage = (event) => {
      this.#receive(event.data as FromWorker<Name>);
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
      if (this.#running === message) this.#receive(reply(message, doers) as FromWorker<Name>);
    } catch (error) {
      this.#receive({ kind: 'failed', id: message.id, message: String(error) });
    }
  }

  #receive(received: FromWorker<Name>): void {
    const message = this.#running;
    if (message?.id !== received.id) return;
    if (received.kind === 'progress') {
      this.#parts.onprogress?.(received.progress);
      return;
    }
    this.#finish();
    if (received.kind === 'done') {
      if (this.#worker) this.#crashes = 0;
      const isLatest = this.#waiting === null;
      this.#parts.onanswer({ ask: message.ask as Ask<Name>, answer: received.answer, isLatest });
    } else if (this.#waiting === null) {
      this.#parts.onfailure(received.message);
    }
    if (!this.#running) this.#next();
  }
}
