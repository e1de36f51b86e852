// The ways into a note of the shown line, worked out in a thread of their own, and the one that is kept.
import {
  barsOfWay,
  type ChordPart,
  type LineNote,
  type WayIn,
  type WaysIn,
  type WaysProblem,
} from '../../pipeline';
import type { Answered, WaysAsk } from '../../worker';
import { requestOf, type Playing, type ShownLine, type Studio } from '..';

/** Makes an asker that answers through the two functions. */
export type ConnectWays = (
  onanswer: (answered: Answered<'ways'>) => void,
  onfailure: (message: string) => void,
) => { request(ask: WaysAsk): void; cancel(): void; dispose(): void };

/** The side of a studio that is looked at and changed. */
type Desk = Pick<Studio, 'study' | 'shown' | 'pinNotes' | 'showTake'>;
/** The side of the player that a way is heard with. */
type Player = Pick<Playing, 'isPlaying' | 'isStarting' | 'stop' | 'hearBars'>;

interface Question {
  readonly index: number;
  readonly on: ChordPart;
  /** The line that was shown when it was asked. */
  readonly about: ShownLine;
  readonly ask: WaysAsk;
}

export class WaysDesk {
  readonly #studio: Desk;
  readonly #player: Player;
  readonly #connect: ConnectWays;
  #asker: ReturnType<ConnectWays> | null = null;
  #question = $state.raw<Question | null>(null);
  #answer = $state.raw<WaysIn | WaysProblem | null>(null);
  #hasFailed = $state(false);
  /** The way that is heard, its line lent to the sheet. */
  #heard = $state.raw<WayIn | null>(null);
  #hasBegun = $state(false);

  constructor(studio: Desk, player: Player, connect: ConnectWays) {
    this.#studio = studio;
    this.#player = player;
    this.#connect = connect;
  }

  /** Index of the note that is asked about; null when none is, or the line has changed since. */
  get index(): number | null {
    const { shown } = this.#studio;
    const isThere =
      shown === this.#question?.about || (this.#heard !== null && shown?.line === this.#heard.line);
    return this.#question && isThere ? this.#question.index : null;
  }
  get isWorking(): boolean {
    return this.index !== null && this.#answer === null && !this.#hasFailed;
  }
  get hasFailed(): boolean {
    return this.index !== null && this.#hasFailed;
  }
  /** All that was found; null before there is an answer, and where there are no ways. */
  get found(): WaysIn | null {
    return this.index !== null && typeof this.#answer !== 'string' ? this.#answer : null;
  }
  get ways(): readonly WayIn[] {
    return this.found?.ways ?? [];
  }
  /** The part of its chord that the ways lead to. */
  get on(): ChordPart {
    return this.#question?.on ?? 'root';
  }
  /** The way that is heard; null when none is. */
  get heard(): WayIn | null {
    return this.#heard;
  }
  get problem(): WaysProblem | null {
    return this.index !== null && typeof this.#answer === 'string' ? this.#answer : null;
  }

  /** Has the ways into a note of the shown line worked out; an ask before it is forgotten. */
  ask(index: number, on: ChordPart): void {
    this.hush();
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
    this.hush();
    this.#asker?.dispose();
    this.#asker = null;
    this.#question = null;
  }

  /** Plays the bars of a way, its line on the sheet meanwhile; the one that is heard is hushed. The study stays as it is. */
  async hear(way: WayIn): Promise<void> {
    const { found } = this;
    const bars = barsOfWay(way);
    const was = this.#heard;
    this.hush();
    if (was === way || !found || !way.line || !bars) return;
    this.#player.stop();
    const { chart, timeline } = found;
    this.#heard = way;
    const result = { chart, timeline, line: way.line, problems: [], impossible: null, timings: {} };
    this.#studio.showTake(result, 'heard');
    await this.#player.hearBars(bars);
    if (this.#heard === way) this.#hasBegun = true;
  }

  /** Gives the line back once the player has stopped; to be called in an effect, so that it follows the player. */
  follow(): void {
    const { isPlaying, isStarting } = this.#player;
    if (this.#hasBegun && !isPlaying && !isStarting) this.hush();
  }

  /** Stops a way that is heard and gives the study's line back. */
  hush(): void {
    if (!this.#heard) return;
    this.#hasBegun = false;
    this.#player.stop();
    this.#studio.showTake(null, 'heard');
    this.#heard = null;
  }

  /** Pins the notes of a way, with the one it leads to, as they are played in its line. */
  keep(way: WayIn): void {
    this.hush();
    const notes = notesOf(way);
    if (notes.length > 0) this.#studio.pinNotes(notes);
  }
}

/** The notes of a way and the one it leads to; none where there is no such way. */
export const notesOf = ({ line, notes }: WayIn): readonly LineNote[] =>
  line ? notes.flatMap((index) => line.notes[index] ?? []) : [];
