// A worker by hand: it clones what passes, as a real one does, and answers when told.
import type { WorkerLike } from '../../src/worker';
import { doers } from '../../src/worker/doers';
import { reply, type FromWorker, type ToWorker } from '../../src/worker/protocol';

export class HandWorker implements WorkerLike {
  onmessage: WorkerLike['onmessage'] = null;
  onerror: WorkerLike['onerror'] = null;
  onmessageerror: WorkerLike['onmessageerror'] = null;
  readonly inbox: ToWorker[] = [];
  isTerminated = false;

  postMessage(message: ToWorker): void {
    this.inbox.push(structuredClone(message));
  }
  terminate(): void {
    this.isTerminated = true;
  }
  /** Answers the oldest message. */
  reply(by = doers): void {
    const message = this.inbox.shift();
    if (!message) throw new Error('nothing to answer');
    this.#tell(reply(message, by));
  }
  /** Tells that a message is under way. */
  progress(id: number, done: number): void {
    this.#tell({ kind: 'progress', id, progress: { pass: 'forward', done } });
  }
  crash(): void {
    this.onerror?.({ preventDefault: () => undefined } as unknown as ErrorEvent);
  }
  #tell(message: FromWorker): void {
    this.onmessage?.({ data: structuredClone(message) } as MessageEvent<FromWorker>);
  }
}

/** Starts workers by hand, and keeps the list of them. */
export function handWorkers(): { readonly workers: HandWorker[]; readonly startWorker: () => HandWorker } {
  const workers: HandWorker[] = [];
  const startWorker = (): HandWorker => {
    const worker = new HandWorker();
    workers.push(worker);
    return worker;
  };
  return { workers, startWorker };
}
