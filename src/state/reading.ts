// Files read in a thread of their own, so that none can hold up the page. One at a time: the latest counts.
import type { Answer, Answered, Ask } from '../worker';

/** Milliseconds that reading may take; the largest honest files take a few hundred. */
export const mostReadingTime = 20_000;
/** Files larger than this are not opened on the screen: the longest real ones are a fraction of it. */
export const mostOpenedBytes = 4 * 1024 * 1024;

/** The parts of a file that a line can be taken from. */
export interface LineParts {
  /** As words, in order; none where there is nothing to choose. */
  readonly names: readonly string[];
  /** The one that was taken, counted from 1; null when none was. */
  readonly taken: number | null;
}
export const noParts: LineParts = { names: [], taken: null };
/** There is another part than the one that was taken. */
export const isPartChoice = ({ names, taken }: LineParts): boolean => names.length > (taken === null ? 0 : 1);

type ReadingTask = 'read' | 'readLine';

/** The side of a worker client that reads files. */
export interface Reader<Name extends ReadingTask> {
  request(source: Ask<Name>): void;
  cancel(): void;
}
export type ConnectReader<Name extends ReadingTask> = (
  onanswer: (answered: Pick<Answered<Name>, 'ask' | 'answer'>) => void,
  onfailure: (message: string) => void,
) => Reader<Name>;

/** What a reading comes to: its answer, "failed", or "superseded" when another was begun meanwhile. */
export type Reading<Name extends ReadingTask> = Answer<Name> | 'failed' | 'superseded';

interface Pending<Name extends ReadingTask> {
  readonly source: Ask<Name>;
  readonly settle: (reading: Reading<Name>) => void;
  readonly timer: ReturnType<typeof setTimeout>;
}

export class ReadingDesk<Name extends ReadingTask> {
  readonly #reader: Reader<Name>;
  #pending: Pending<Name> | null = null;

  constructor(connect: ConnectReader<Name>) {
    this.#reader = connect(
      ({ ask, answer }) => {
        // What was given up may still be answered before its worker ends.
        if (ask === this.#pending?.source) this.#finish(answer);
      },
      () => {
        this.#finish('failed');
      },
    );
  }

  /** Never rejects. */
  read(source: Ask<Name>): Promise<Reading<Name>> {
    this.giveUp();
    return new Promise((settle) => {
      const timer = setTimeout(() => {
        this.#reader.cancel();
        this.#finish('failed');
      }, mostReadingTime);
      this.#pending = { source, settle, timer };
      this.#reader.request(source);
    });
  }

  /** Ends what is being read. */
  giveUp(): void {
    this.#finish('superseded');
    this.#reader.cancel();
  }

  #finish(reading: Reading<Name>): void {
    const pending = this.#pending;
    if (!pending) return;
    this.#pending = null;
    clearTimeout(pending.timer);
    pending.settle(reading);
  }
}
