// The page's side of the worker. The latest request wins: one runs, at most one waits, and an answer never comes after a
// later one. A worker that crashes is started again; one that cannot be started is replaced by the same function here.
import type { WalkRequest, WalkResult } from '../pipeline';
import { answer, type FromWorker, type ToWorker, type Walk, type WalkMessage } from './protocol';

/** The part of a Worker that is used, so that tests can bring their own. */
export interface WorkerLike {
  postMessage(message: ToWorker): void;
  terminate(): void;
  onmessage: ((event: MessageEvent<FromWorker>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  onmessageerror: ((event: MessageEvent) => void) | null;
}

export interface WalkAnswer {
  readonly request: WalkRequest;
  readonly result: WalkResult;
  /** False while a later request is still waiting or running. */
  readonly isLatest: boolean;
}

export interface WalkClientParts {
  /** Starts a worker; may throw where workers are not allowed. */
  readonly startWorker: () => WorkerLike;
  /** Brings the same computation to this thread, for when there is no worker. */
  readonly loadWalk: () => Promise<Walk>;
  readonly onanswer: (answer: WalkAnswer) => void;
  /** The computation ended with an error for this request, here and in the worker. */
  readonly onfailure: (message: string) => void;
}

/** A request that runs longer than this many milliseconds is given up when a later one waits. */
const patience = 2_000;
/** Crashes in a row after which no further worker is started. */
const mostCrashes = 2;

export class WalkClient {
  readonly #parts: WalkClientParts;
  #worker: WorkerLike | null = null;
  #crashes = 0;
  #lastId = 0;
  #running: WalkMessage | null = null;
  #waiting: WalkMessage | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(parts: WalkClientParts) {
    this.#parts = parts;
  }

  /** True while a request runs or waits. */
  get isBusy(): boolean {
    return this.#running !== null;
  }

  /** Asks for a line. What waits is forgotten; what runs is finished and answered, unless it takes too long. */
  request(request: WalkRequest): void {
    this.#waiting = { kind: 'walk', id: ++this.#lastId, request };
    if (!this.#running) this.#next();
    else this.#timer ??= setTimeout(() => this.#giveUp(), patience);
  }

  /** Forgets what runs and what waits; nothing more is answered. */
  cancel(): void {
    this.#waiting = null;
    if (this.#running) this.#stop();
  }

  /** Ends the worker. A later request starts a new one. */
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

  async #runHere(message: WalkMessage): Promise<void> {
    try {
      const walk = await this.#parts.loadWalk();
      if (this.#running === message) this.#receive(answer(message, walk));
    } catch (error) {
      this.#receive({ kind: 'failed', id: message.id, message: String(error) });
    }
  }

  #receive(reply: FromWorker): void {
    const message = this.#running;
    if (message?.id !== reply.id) return;
    this.#finish();
    if (reply.kind === 'walked') {
      if (this.#worker) this.#crashes = 0;
      const isLatest = this.#waiting === null;
      this.#parts.onanswer({ request: message.request, result: reply.result, isLatest });
    } else if (this.#waiting === null) {
      this.#parts.onfailure(reply.message);
    }
    if (!this.#running) this.#next();
  }
}
