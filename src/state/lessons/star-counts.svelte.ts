// The devices of all starred takes together. A star keeps its notes: each is laid over the changes once more, one after the
// other in a thread of their own.
import type { WalkRequest, WalkResult } from '../../pipeline';
import { requestOf, type ShownLine, type StarredTake, type Studio } from '..';
import { devicesIn, type CountRow } from './in-line';

/** Makes an asker for lines. */
export type ConnectStars = (
  onanswer: (answered: { readonly ask: WalkRequest; readonly answer: WalkResult }) => void,
  onfailure: (message: string) => void,
) => { request(ask: WalkRequest): void; dispose(): void };

type Line = Pick<ShownLine, 'line' | 'timeline'>;

export class StarCounts {
  readonly #studio: Pick<Studio, 'study' | 'stars'>;
  readonly #connect: ConnectStars;
  #asker: ReturnType<ConnectStars> | null = null;
  /** The stars that are counted, as they were when it was begun. */
  #stars: readonly StarredTake[] = $state.raw([]);
  #lines: readonly Line[] = $state.raw([]);
  /** Stars that have no line over these changes any more. */
  #lost = $state(0);
  #hasFailed = $state(false);

  constructor(studio: Pick<Studio, 'study' | 'stars'>, connect: ConnectStars) {
    this.#studio = studio;
    this.#connect = connect;
  }

  get isWorking(): boolean {
    return this.#asker !== null;
  }
  get hasFailed(): boolean {
    return this.#hasFailed;
  }
  /** Takes that are counted so far. */
  get counted(): number {
    return this.#lines.length;
  }
  get lost(): number {
    return this.#lost;
  }
  /** Null before all of them are counted, and when the stars have changed since. */
  get rows(): readonly CountRow[] | null {
    const isDone = this.#stars.length > 0 && this.#lines.length + this.#lost === this.#stars.length;
    return isDone && this.#stars === this.#studio.stars ? devicesIn(this.#lines) : null;
  }

  /** Counts all stars anew. */
  count(): void {
    this.stop();
    this.#stars = this.#studio.stars;
    this.#lines = [];
    this.#lost = 0;
    this.#hasFailed = false;
    if (this.#stars.length === 0) return;
    this.#asker = this.#connect(
      ({ answer: { line, timeline } }) => {
        if (line && timeline) this.#lines = [...this.#lines, { line, timeline }];
        else this.#lost++;
        this.#next();
      },
      () => {
        this.stop();
        this.#hasFailed = true;
      },
    );
    this.#next();
  }

  /** Gives up the work under way. */
  stop(): void {
    this.#asker?.dispose();
    this.#asker = null;
  }

  #next(): void {
    const star = this.#stars[this.#lines.length + this.#lost];
    if (star) this.#asker?.request(requestOf({ ...this.#studio.study, kept: star.kept, pins: [] }));
    else this.stop();
  }
}
