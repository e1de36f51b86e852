// What the page and the worker that computes strings say to each other.
import { computeWish, nameOf, type StringWish } from './wishes';

/** From the page: what is wanted from now on, in place of what was wanted before. */
export interface StringAsk {
  readonly wishes: readonly StringWish[];
  readonly sampleRate: number;
}

/** From the worker: one sound. */
export interface StringAnswer {
  readonly name: string;
  readonly seconds: number;
  readonly sampleRate: number;
  readonly samples: Float32Array<ArrayBuffer>;
}

/** Calls a function once what came meanwhile has been heard. */
export type Later = (then: () => void) => void;

/** Computes what is wanted, one sound at a time; a new ask takes the place of the rest of the one before. */
export class StringWork {
  readonly #answer: (answer: StringAnswer) => void;
  readonly #later: Later;
  #left: StringWish[] = [];
  #sampleRate = 0;
  #isBusy = false;

  constructor(answer: (answer: StringAnswer) => void, later: Later) {
    this.#answer = answer;
    this.#later = later;
  }

  ask({ wishes, sampleRate }: StringAsk): void {
    this.#left = [...wishes];
    this.#sampleRate = sampleRate;
    if (this.#isBusy || wishes.length === 0) return;
    this.#isBusy = true;
    this.#later(() => this.#next());
  }

  #next(): void {
    const wish = this.#left.shift();
    this.#isBusy = wish !== undefined;
    if (!wish) return;
    const samples = computeWish(wish, this.#sampleRate) as Float32Array<ArrayBuffer>;
    this.#answer({ name: nameOf(wish), seconds: wish.seconds, sampleRate: this.#sampleRate, samples });
    this.#later(() => this.#next());
  }
}
