// The ways into a note of the shown line, worked out in a thread of their own, and the one that is kept.
import type { ChordPart, LineNote, WayIn, WaysIn, WaysProblem } from '../../pipeline';
import type { Answered, WaysAsk } from '../../worker';
import { requestOf, type ShownLine, type Studio } from '..';

/** Makes an asker that answers through the two functions. */
export type ConnectWays = (
  onanswer: (answered: Answered<'ways'>) => void,
  onfailure: (message: string) => void,
) => { request(ask: WaysAsk): void; cancel(): void; dispose(): void };

/** The side of a studio that is looked at and changed. */
type Desk = Pick<Studio, 'study' | 'shown' | 'pinNotes'>;

interface Question {
  readonly index: number;
  readonly on: ChordPart;
  /** The line that was shown when it was asked. */
  readonly about: ShownLine;
  readonly ask: WaysAsk;
}

export class WaysDesk {
  readonly #studio: Desk;
  readonly #connect: ConnectWays;
  #asker: ReturnType<ConnectWays> | null = null;
  #question = $state.raw<Question | null>(null);
  #answer = $state.raw<WaysIn | WaysProblem | null>(null);
  #hasFailed = $state(false);

  constructor(studio: Desk, connect: ConnectWays) {
    this.#studio = studio;
    this.#connect = connect;
  }

  /** Index of the note that is asked about; null when none is, or the line has changed since. */
  get index(): number | null {
    return this.#question && this.#question.about === this.#studio.shown ? this.#question.index : null;
  }
  get isWorking(): boolean {
    return this.index !== null && this.#answer === null && !this.#hasFailed;
  }
  get hasFailed(): boolean {
    return this.index !== null && this.#hasFailed;
  }
  get ways(): readonly WayIn[] {
    return this.index !== null && this.#answer !== null && typeof this.#answer !== 'string'
      ? this.#answer.ways
      : [];
  }
  get problem(): WaysProblem | null {
    return this.index !== null && typeof this.#answer === 'string' ? this.#answer : null;
  }

  /** Has the ways into a note of the shown line worked out; an ask before it is forgotten. */
  ask(index: number, on: ChordPart): void {
    const { shown, study } = this.#studio;
    const note = shown?.line.notes[index];
    if (!shown || !note) return;
    const ask = { request: requestOf(study), into: { bar: note.bar, beat: note.beat }, on };
    this.#question = { index, on, about: shown, ask };
    this.#answer = null;
    this.#hasFailed = false;
    this.#asker ??= this.#connect(
      (answered) => {
        if (answered.ask === this.#question?.ask) this.#answer = answered.answer.found;
      },
      () => {
        this.#hasFailed = true;
      },
    );
    this.#asker.request(ask);
  }

  /** Stops the work that is under way. */
  stop(): void {
    this.#asker?.dispose();
    this.#asker = null;
    this.#question = null;
  }

  /** Pins the notes of a way, with the one it leads to, as they are played in its line. */
  keep(way: WayIn): void {
    const notes = notesOf(way);
    if (notes.length > 0) this.#studio.pinNotes(notes);
  }
}

/** The notes of a way and the one it leads to; none where there is no such way. */
export const notesOf = ({ line, notes }: WayIn): readonly LineNote[] =>
  line ? notes.flatMap((index) => line.notes[index] ?? []) : [];
