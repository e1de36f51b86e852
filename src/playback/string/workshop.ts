// Where the bass is computed: in a worker, or piece by piece on this thread where there is none.
import { StringWork, type StringAnswer, type StringAsk } from './protocol';
import { nameOf, type StringWish } from './wishes';

/** The part of a Worker that is used, so that tests can bring their own. */
export interface StringWorker {
  postMessage(ask: StringAsk): void;
  terminate(): void;
  onmessage: ((event: MessageEvent<StringAnswer>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
}

export interface WorkshopParts {
  /** Starts a worker; may throw where workers are not allowed. */
  readonly startWorker: () => StringWorker;
  readonly onsound: (answer: StringAnswer) => void;
}

export class Workshop {
  readonly #parts: WorkshopParts;
  #worker: StringWorker | null = null;
  #here: StringWork | null = null;
  /** What is wanted and has not come. */
  #waiting = new Map<string, StringWish>();
  #sampleRate = 0;

  constructor(parts: WorkshopParts) {
    this.#parts = parts;
  }

  /** From now on these are wanted, in this order, and nothing that was wanted before. */
  want(wishes: readonly StringWish[], sampleRate: number): void {
    const isSame =
      sampleRate === this.#sampleRate &&
      wishes.length === this.#waiting.size &&
      wishes.every((wish) => this.#waiting.get(nameOf(wish))?.seconds === wish.seconds);
    if (isSame && wishes.length > 0) return;
    this.#waiting = new Map(wishes.map((wish) => [nameOf(wish), wish]));
    this.#sampleRate = sampleRate;
    this.#ask();
  }

  dispose(): void {
    this.#waiting.clear();
    this.#worker?.terminate();
    this.#worker = null;
    this.#here?.ask({ wishes: [], sampleRate: 0 });
  }

  #ask(): void {
    const ask = { wishes: [...this.#waiting.values()], sampleRate: this.#sampleRate };
    if (!this.#here) {
      try {
        this.#worker ??= this.#start();
        this.#worker.postMessage(ask);
        return;
      } catch {
        this.#workHere();
      }
    }
    this.#here!.ask(ask);
  }

  #start(): StringWorker {
    const worker = this.#parts.startWorker();
    worker.onmessage = ({ data }) => {
      this.#receive(data);
    };
    worker.onerror = (event) => {
      event.preventDefault();
      worker.terminate();
      if (worker !== this.#worker) return;
      this.#worker = null;
      this.#workHere();
      if (this.#waiting.size > 0) this.#ask();
    };
    return worker;
  }

  /** A pause between two sounds lets the page draw and answer. */
  #workHere(): void {
    this.#here ??= new StringWork(
      (answer) => {
        this.#receive(answer);
      },
      (then) => setTimeout(then, 0),
    );
  }

  #receive(answer: StringAnswer): void {
    if ((this.#waiting.get(answer.name)?.seconds ?? Infinity) <= answer.seconds)
      this.#waiting.delete(answer.name);
    this.#parts.onsound(answer);
  }
}
