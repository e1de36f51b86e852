// Lessons asked for and made in a thread of their own: a layer on a ground, a round through twelve keys, a line in another key.
import type { Key } from '../../music';
import {
  changesFrom,
  groundOf,
  layerIds,
  layerOf,
  type CarriedLine,
  type GroundId,
  type LayerId,
  type Lesson,
  type Line,
  type RoundKey,
  type RoundOrder,
  type WalkRequest,
} from '../../pipeline';
import type {
  Answered,
  CarryAsk,
  LessonAnswer,
  LessonAsk,
  OnProgress,
  RoundAsk,
  TaskName,
} from '../../worker';
import { requestOf, type LessonSheet, type LessonNames, type SheetLine, type Studio } from '..';

/** Makes an asker for one kind of question. */
type ConnectTask<Name extends TaskName, Ask> = (
  onanswer: (answered: Answered<Name>) => void,
  onfailure: (message: string) => void,
  onprogress?: OnProgress,
) => { request(ask: Ask): void; dispose(): void };

export interface ConnectLessons {
  readonly lesson: ConnectTask<'lesson', LessonAsk>;
  readonly round: ConnectTask<'round', RoundAsk>;
  readonly carry: ConnectTask<'carry', CarryAsk>;
}

/** What is being worked out. */
export type LessonWork = 'lesson' | 'round' | 'carry';

/** Why there is nothing to show: a sentence of the impossible, or a word for it. */
export interface LessonTrouble {
  readonly kind: 'impossible' | 'failed' | 'nothing' | 'other rhythm' | 'no sharing out';
  readonly message: string;
}

/** A lesson that is made again. */
interface Remaking {
  readonly names: LessonNames;
  readonly isWanted: () => boolean;
  readonly ontrouble: () => void;
}

const haveSameNames = (one: LessonNames | null, { layer, ground, from }: LessonNames): boolean =>
  one?.layer === layer && one.ground === ground && one.from === from;

const sheetLine = ({ chart, problems, timeline, line }: Lesson): SheetLine | null =>
  timeline && line ? { chart, problems, timeline, line } : null;

/** The layer taught before another; null for the first. */
export const layerBefore = (layer: LayerId): LayerId | null => layerIds[layerIds.indexOf(layer) - 1] ?? null;

const lessonName = (layer: LayerId, ground: GroundId): string =>
  `${layerOf(layer).name} on ${groundOf(ground).name}`;

/** Lays one key of a round on the sheet. @param name of the key, as the page calls it */
export function layKey(sheet: LessonSheet, { ground, lesson }: RoundKey, name: string): void {
  const after = sheetLine(lesson);
  if (!after) return;
  sheet.lay({
    name: `${name}: ${lessonName(lesson.layer, ground)}`,
    says: groundOf(ground).says,
    after,
    before: null,
    names: null,
    changed: [],
    heldOtherwise: 0,
    over: lesson.over ?? 0,
    again: null,
  });
}

export class LessonDesk {
  readonly #studio: Pick<Studio, 'study' | 'shown' | 'isLesson'>;
  readonly #sheet: LessonSheet;
  readonly #connect: ConnectLessons;
  #asker: { dispose(): void } | null = null;
  /** Makes again what the study remembers; kept, so that a lesson follows a tempo that is being set. */
  #remaker: { request(ask: LessonAsk): void; dispose(): void } | null = null;
  #again: Remaking | null = null;
  #work: LessonWork | null = $state(null);
  #progress: number | null = $state(null);
  #trouble: LessonTrouble | null = $state.raw(null);

  constructor(
    studio: Pick<Studio, 'study' | 'shown' | 'isLesson'>,
    sheet: LessonSheet,
    connect: ConnectLessons,
  ) {
    this.#studio = studio;
    this.#sheet = sheet;
    this.#connect = connect;
  }

  get work(): LessonWork | null {
    return this.#work;
  }
  /** How far a round has come, from 0 to 1; null where that is not known. */
  get progress(): number | null {
    return this.#progress;
  }
  get trouble(): LessonTrouble | null {
    return this.#trouble;
  }

  /**
   * Makes a lesson and lays it on the sheet.
   * @param onlaid told when it lies there
   */
  make(layer: LayerId, ground: GroundId, from: LayerId | null, onlaid?: () => void): void {
    const names: LessonNames = { layer, ground, from };
    this.#begin('lesson');
    const asker = this.#connect.lesson(
      ({ answer }) => {
        this.#end();
        if (this.#lay(names, answer, null)) onlaid?.();
      },
      (message) => this.#fail(message),
    );
    this.#asker = asker;
    asker.request(this.#askFor(names));
  }

  /**
   * Makes the lesson that the study remembers, anew or again after a change of the study; it is left where the study
   * remembers another by the time it is made.
   * @param ontrouble told when it cannot be made
   */
  reopen(lesson: LessonNames, ontrouble: () => void): void {
    const isWanted = (): boolean => this.#studio.study.lesson === lesson;
    this.#again = { isWanted, ontrouble, names: lesson };
    this.#sheet.remake(true);
    this.#remaker ??= this.#connect.lesson(
      ({ answer, isLatest }) => {
        const again = this.#again;
        if (!isLatest || !again) return;
        this.#sheet.remake(false);
        if (!again.isWanted()) return;
        const old = this.#sheet.open;
        const isSame = old !== null && haveSameNames(old.names, again.names);
        if (!this.#lay(again.names, answer, isSame ? old.after.line : null)) again.ontrouble();
      },
      (message) => {
        this.#sheet.remake(false);
        this.#fail(message);
        if (this.#again?.isWanted()) this.#again.ontrouble();
      },
    );
    this.#remaker.request(this.#askFor(lesson));
  }

  #askFor({ layer, ground, from }: LessonNames): LessonAsk {
    return { request: this.#once, wish: { layer, ground }, from };
  }

  /**
   * Lays a lesson that was made on the sheet; false where there is none.
   * @param was the line of the same lesson before a change of the study; null where it is not made again
   */
  #lay(names: LessonNames, { before, lesson }: LessonAnswer, was: Line | null): boolean {
    const after = sheetLine(lesson);
    const old = before && sheetLine(before);
    if (!after) {
      this.#trouble = lesson.impossible
        ? { kind: 'impossible', message: lesson.impossible.message }
        : { kind: 'nothing', message: '' };
      return false;
    }
    const differs = was && changesFrom(was, after.line);
    this.#sheet.lay({
      name: lessonName(names.layer, names.ground),
      says: layerOf(names.layer).says,
      after,
      before: old && before ? { name: layerOf(before.layer).name, of: old } : null,
      names,
      changed: lesson.changes?.notes ?? [],
      heldOtherwise: lesson.changes?.fingers.length ?? 0,
      over: lesson.over ?? 0,
      again: differs && { notes: differs.notes.length, fingers: differs.fingers.length },
    });
    return true;
  }

  /** Makes a round; it is listed, and any key of it can be opened. */
  makeRound(layer: LayerId, order: RoundOrder): void {
    const { study } = this.#studio;
    this.#begin('round');
    this.#progress = 0;
    const asker = this.#connect.round(
      ({ answer }) => {
        this.#end();
        this.#sheet.keepRound(answer.problem === null ? { round: answer, of: study } : null);
        if (answer.problem === 'nothing to play') this.#trouble = { kind: 'nothing', message: '' };
        if (answer.problem === 'no sharing out')
          this.#trouble = { kind: 'no sharing out', message: answer.missing[0]?.message ?? '' };
      },
      (message) => this.#fail(message),
      ({ done }) => (this.#progress = done),
    );
    this.#asker = asker;
    asker.request({ request: this.#once, wish: { layer, order } });
  }

  /** Carries the study's own line to another key and lays it on the sheet. */
  carry(
    key: Key,
    say: (carried: CarriedLine) => { readonly name: string; readonly says: string },
    own: string,
  ): void {
    this.#sheet.leave();
    const { shown, study } = this.#studio;
    if (!shown) {
      this.#trouble = { kind: 'nothing', message: '' };
      return;
    }
    this.#begin('carry');
    const asker = this.#connect.carry(
      ({ answer: { carried } }) => {
        this.#end();
        if (typeof carried === 'string') {
          this.#trouble = { kind: carried, message: '' };
          return;
        }
        const { chart, problems, timeline, line, impossible } = carried;
        if (!line) {
          this.#trouble = { kind: 'impossible', message: impossible?.message ?? '' };
          return;
        }
        const here: SheetLine = { chart, problems: [], timeline: shown.timeline, line: shown.line };
        this.#sheet.lay({
          ...say(carried),
          after: { chart, problems, timeline, line },
          before: { name: own, of: here },
          names: null,
          changed: [],
          heldOtherwise: carried.fingers.length,
          over: 0,
          again: null,
        });
      },
      (message) => this.#fail(message),
    );
    this.#asker = asker;
    asker.request({ request: requestOf(study), line: shown.line, timeline: shown.timeline, key });
  }

  /** Stops the work that is under way. */
  stop(): void {
    this.#end();
  }

  /** The study once through: a lesson is as long as its form. */
  get #once(): WalkRequest {
    return { ...requestOf(this.#studio.study), choruses: 1 };
  }

  #begin(work: LessonWork): void {
    this.#end();
    this.#trouble = null;
    this.#work = work;
  }

  #end(): void {
    this.#asker?.dispose();
    this.#asker = null;
    this.#work = null;
    this.#progress = null;
  }

  #fail(message: string): void {
    this.#end();
    this.#trouble = { kind: 'failed', message };
  }
}
